//! What goes through a wall or ceiling, and what must fill the gap around it.

use redtag_schema::quantity::{at_least, at_most};
use uom::si::f64::{Area, Length, Time};

/// What goes through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Going {
    /// A pipe of steel, iron or copper.
    MetalPipe,
    /// A plastic pipe, a cable, a raceway, a vent.
    Other,
    /// A duct.
    Duct {
        /// Whether a damper closes it in a fire.
        fire_damper: Option<bool>,
    },
}

/// What fills the gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Filling {
    /// A listed firestop system.
    ListedFirestop,
    /// Material approved as fireblocking.
    Fireblocking,
    /// Material tested as part of a rated assembly to hold back flame under pressure.
    Tested,
    /// Concrete, grout or mortar.
    Grout,
    /// Sealant that is not rated for fire.
    Sealant,
    /// Nothing.
    Nothing,
}

/// What the gap must be filled to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Standard {
    /// To stop flame and hot gas, as fireblocking does.
    Fireblock,
    /// To hold as long as the rated assembly around it.
    Firestop {
        /// That rating.
        rating: Time,
        /// Whether the assembly is concrete or masonry.
        masonry: bool,
        /// Largest metal pipe that concrete or grout may fill around in masonry.
        grouted_pipe: Length,
    },
}

/// Whether the filling is enough; `None` where the rating of the firestop or the size of the pipe is needed and unknown.
pub fn filled(going: Going, filling: Filling, hours: Option<Time>, diameter: Option<Length>, standard: Standard) -> Option<bool> {
    let Standard::Firestop { rating, masonry, grouted_pipe } = standard else {
        return Some(matches!(filling, Filling::ListedFirestop | Filling::Fireblocking | Filling::Tested | Filling::Grout));
    };
    if let Going::Duct { fire_damper: Some(true) } = going {
        return Some(!matches!(filling, Filling::Nothing | Filling::Sealant));
    }
    match (filling, going) {
        (Filling::ListedFirestop, _) => hours.map(|hours| at_least(hours, rating)),
        // Around metal pipe tested material will do without a listed system.
        (Filling::Tested, Going::MetalPipe) => hours.map(|hours| at_least(hours, rating)),
        (Filling::Grout, Going::MetalPipe) if masonry => diameter.map(|diameter| at_most(diameter, grouted_pipe)),
        _ => Some(false),
    }
}

/// The gap around what goes through a round hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Annulus {
    /// Its width all around, where what goes through is in the middle.
    pub width: Length,
    /// Its area.
    pub area: Area,
}

impl Annulus {
    /// The gap; `None` where the hole is smaller than what goes through it.
    pub fn of(hole: Length, diameter: Length) -> Option<Self> {
        at_least(hole, diameter).then(|| Self {
            width: (hole - diameter) / 2.0,
            area: (hole * hole - diameter * diameter) * std::f64::consts::FRAC_PI_4,
        })
    }
}
