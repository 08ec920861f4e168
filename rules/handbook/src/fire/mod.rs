//! Fire: what a wall or ceiling must be finished with, what counts as that finish, and what may go through it.
//!
//! [`Finish`] is a demand on a face; [`face_meets`] holds the layers of a face against it and answers yes, no, or which facts it
//! depends on, so that an unknown layer never passes. [`garage_row`] picks the row of the garage separation table;
//! [`wall_board`] measures a wall; the other files hold the rules for what goes through, what hides behind, and foam plastic.
//!
//! Every limit is inclusive: exactly enough is enough.

mod answer;
mod block;
mod boxes;
mod finish;
mod flame;
mod floor;
mod foam;
mod garage;
mod incidental;
mod layer;
mod rated;
pub mod sources;
mod takeoff;
mod through;

pub use answer::Answer;
pub use block::{BlockFact, BlockLimits, Blocking, blocks, stops_draft};
pub use boxes::{BoxFacts, BoxFault, BoxLimits, box_faults, greatest_box_area};
pub use finish::{Counting, Face, Finish, Met, bare_foam, behind_barrier, face_meets, shortest};
pub use flame::{FlameIndexes, FlameLimits, Surface, surface_meets};
pub use floor::{FloorException, FloorFacts, FloorLimits, floor_exception};
pub use foam::{FoamFacts, FoamLimits, RimJoist, ignition_barrier, rim_joist};
pub use garage::{Beside, GarageRow, GarageTable, garage_row};
pub use incidental::{IncidentalLimits, IncidentalRoom, Reading, boiler_horsepower, incidental};
pub use layer::{Layer, LayerFact, Material};
pub use rated::{Rated, RatedFault, WallConstruction, hour_wall};
pub use takeoff::{BoardArea, Cut, Wall, sheets, wall_board};
pub use through::{Annulus, Filling, Going, Standard, filled};
