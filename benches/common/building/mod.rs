//! A made-up building of any size, as the files a user would write: site.yaml, rooms.csv, standard.yaml, crew.yaml.
//!
//! The same figures and seed always give the same files, so that results can be compared. What is in it:
//!
//! | what | figure |
//! |---|---|
//! | floors | alike; halls of up to 26 rooms side by side, joined at both ends; fire doors half way |
//! | ways up | stairs at the first start and the last end, a third in the middle of broad floors; a lift for every four halls |
//! | closets | one a floor, in the middle, with a waste point; a fill point on every second floor; a staff room likewise |
//! | rooms | a corridor for each hall, two stairs a storey, a lobby; a tenth restrooms; of the others 45 % offices, 22 % classrooms, 10 % meeting rooms, 9 % stores, 8 % laboratories, 6 % break rooms |
//! | opening | two fifths of all rooms in windows of at most three hours, some of them two; the others late afternoon or evening to 00:30 |
//! | restrooms | in pairs; groups of two or three women's, likewise men's, near each other: one stays open; every room closes for dwell and drying |
//! | exit pairs | the two stairs of a storey; the first corridor of a floor and the stairs beside it |
//! | crew | of ten: seven full-time (16:00 to 00:30, staggered in three), three part-time of whom one is on foot; paces 0.95 to 1.1 |
//! | breaks | full-time a paid rest of 15 min and a meal of 30 min; part-time the rest |
//! | skills | a floor machine for every eight people, to scrub the corridors of every second floor; one in three may use it, another third may enter laboratories; two in ten set the alarm |
//! | work | a standard of its own, with weekly and twice-weekly tasks in three priorities |
//! | duties | a delivery, and locking up last |
//! | load | all minutes of the standard are scaled so that about three quarters of available time are load |
//!
//! The plain building has the same rooms, but only one task and one window for each, and a crew without breaks in which everybody has a cart.
//! It knows neither water nor waste, closures, machines, skills or duties.
//! Everything is invented; no figure describes a real place.

mod calibrate;
mod crew;
mod files;
mod layout;
mod rooms;
mod windows;

pub(crate) use calibrate::told;
pub(crate) use files::Folder;

use crew::crew;
use layout::Layout;
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;
use std::io;

/// What building is wanted.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Figures {
    /// Rooms; at least 12 on each floor.
    pub(crate) rooms: usize,
    /// People.
    pub(crate) workers: usize,
    /// Floors.
    pub(crate) floors: usize,
    /// Another number, another building of the same kind.
    pub(crate) seed: u64,
    /// Whether it is nothing but service times, one window each, shifts and walking.
    pub(crate) plain: bool,
}

/// The files of a building whose load is about three quarters of available time.
///
/// # Errors
/// If temporary files cannot be written, or the site is not one that the reader takes.
pub(crate) fn building(figures: Figures) -> io::Result<Folder> {
    let rng = &mut Pcg64Mcg::seed_from_u64(figures.seed);
    let layout = Layout::new(figures);
    let rooms = rooms::rooms(figures, &layout, rng);
    let crew = crew(figures, rng);
    let folder = Folder {
        site: files::site(figures, &layout, &rooms),
        rooms: rooms::table(figures, &rooms),
        standard: files::standard(figures, 1.0),
        crew,
    };
    let scale = calibrate::scale(&folder)?;
    Ok(Folder {
        standard: files::standard(figures, scale),
        ..folder
    })
}
