//! The methods of supplying combustion air, one per file, in the order they are tried.

mod combination;
mod engineered;
mod indoor;
mod mechanical;
mod one_opening;
mod two_openings;

use crate::air_space::AirSpace;
use crate::parameters::Limits;
use crate::trial::Trial;

type Method = fn(&AirSpace, &Limits) -> Trial;

/// Tries every method the jurisdiction accepts, in the order of the code.
pub fn try_all(space: &AirSpace, limits: &Limits) -> Vec<Trial> {
    let methods: [(&str, Method); 6] = [
        ("indoor", indoor::attempt),
        ("two-openings", two_openings::attempt),
        ("one-opening", one_opening::attempt),
        ("combination", combination::attempt),
        ("mechanical", mechanical::attempt),
        ("engineered", engineered::attempt),
    ];
    methods.iter().filter(|(word, _)| limits.accepts(word)).map(|(_, attempt)| attempt(space, limits)).collect()
}
