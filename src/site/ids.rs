//! Ids are newtypes, so that a floor cannot index a worker.

macro_rules! id {
    ($($(#[$doc:meta])* $name:ident;)+) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u32);

        impl $name {
            /// Where it stands in its vector.
            pub fn index(self) -> usize {
                self.0 as usize
            }
        }

        impl From<usize> for $name {
            fn from(index: usize) -> $name {
                $name(index as u32)
            }
        }
    )+};
}

id! {
    /// A storey.
    FloorId;
    /// A corridor.
    HallId;
    /// Anything that can be walked to.
    PlaceId;
    /// A room.
    RoomId;
    /// A custodial closet.
    ClosetId;
    /// A kind of room.
    KindId;
    /// A kind of machine.
    MachineId;
    /// A skill.
    SkillId;
    /// A key or a clearance.
    AccessId;
    /// A member of the crew.
    WorkerId;
}
