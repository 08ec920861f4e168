//! The combustion air family: does every burner get the air it needs, from where it may.
//!
//! Shared by the rules: which appliances count (`appliances`), what an opening offers (`openings`), which rooms count as one
//! (`rooms`), where air comes from (`outdoors`), everything about one space together (`air_space`), and the methods of the
//! code, one file each (`methods`).

mod air_space;
mod appliances;
mod methods;
mod openings;
mod outdoors;
mod parameters;
mod rooms;
mod trial;
mod words;

redtag_rule::module!("combustion-air", guarded);
