//! A plan as it is written: the JSON document, and the way back.
/// The written plan.
pub struct PlanDocument;
/// Why a written plan does not fit its site.
pub struct Misfit;
