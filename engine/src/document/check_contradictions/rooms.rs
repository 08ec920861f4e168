//! Rooms and openings.

use super::fact::{Fact, enclosed, words};
use super::{Clash, Pair};
use redtag_schema::quantity::Kind;

pub(super) const PAIRS: &[Pair] = &[
    Pair { list: "/openings/*", first: "/free_area", second: "", clash: free_area },
    Pair { list: "/openings/*", first: "/gross_area", second: "/width", clash: face },
    Pair { list: "/openings/*", first: "/space", second: "/beyond/space", clash: same_space },
    Pair { list: "/openings/*", first: "/beyond/kind", second: "/beyond/space", clash: beyond },
    Pair {
        list: "/openings/*",
        first: "/door/clear_width",
        second: "/width",
        clash: |it| it.above("/door/clear_width", "/width", Kind::Length, "its leaf opens wider than the opening is"),
    },
    Pair {
        list: "/openings/*",
        first: "/door/clear_height",
        second: "/height",
        clash: |it| it.above("/door/clear_height", "/height", Kind::Length, "its leaf is clear higher than the opening is"),
    },
    Pair { list: "/openings/*", first: "/door/solid", second: "/free_area", clash: solid_door },
    Pair { list: "/openings/*", first: "/screen/fitted", second: "/screen/mesh", clash: no_screen },
    Pair { list: "/openings/*", first: "/path", second: "/duct", clash: path },
    Pair { list: "/spaces/*", first: "/volume", second: "/ceiling_height", clash: volume },
    Pair { list: "/spaces/*", first: "/floor_area", second: "/outline", clash: floor_area },
    Pair {
        list: "/spaces/*",
        first: "/ceiling_height",
        second: "/structural_ceiling_height",
        clash: |it| it.above("/ceiling_height", "/structural_ceiling_height", Kind::Length, "its ceiling is above the structure"),
    },
    Pair {
        list: "/spaces/*",
        first: "/minimum_clear_height",
        second: "/ceiling_height",
        clash: |it| it.above("/minimum_clear_height", "/ceiling_height", Kind::Length, "its least height is above its ceiling"),
    },
    Pair {
        list: "/spaces/*",
        first: "/lowest_temperature",
        second: "/highest_temperature",
        clash: |it| {
            it.above(
                "/lowest_temperature",
                "/highest_temperature",
                Kind::Temperature,
                "its lowest temperature is above its highest",
            )
        },
    },
    Pair { list: "/spaces/*", first: "/conditioned", second: "/vented_to_outdoors", clash: conditioned },
    Pair { list: "", first: "/building/conditioned_floor_area", second: "/spaces", clash: house_area },
    Pair { list: "", first: "/building/bedrooms", second: "/spaces", clash: bedrooms },
    Pair {
        list: "/building",
        first: "/infiltration/natural",
        second: "/infiltration/ach50",
        clash: |it| {
            it.above(
                "/infiltration/natural",
                "/infiltration/ach50",
                Kind::AirChangeRate,
                "more air leaks in by itself than under test",
            )
        },
    },
    Pair {
        list: "/site",
        first: "/heating_design_temperature",
        second: "/cooling_design_temperature",
        clash: |it| {
            it.above(
                "/heating_design_temperature",
                "/cooling_design_temperature",
                Kind::Temperature,
                "its winter is designed to be warmer than its summer",
            )
        },
    },
];

/// The face of an opening: as stated, else by its sizes.
fn face_area(it: &Fact<'_>) -> Option<f64> {
    by_sizes(it).or_else(|| it.amount("/gross_area", Kind::Area))
}

fn by_sizes(it: &Fact<'_>) -> Option<f64> {
    let length = |step: &str| it.amount(step, Kind::Length);
    match length("/diameter") {
        Some(across) => Some(std::f64::consts::FRAC_PI_4 * across * across),
        None => Some(length("/width")? * length("/height")?),
    }
}

fn free_area(it: &Fact<'_>) -> Option<Clash> {
    let (free, face) = (it.amount("/free_area", Kind::Area)?, face_area(it)?);
    let message = || format!("{}: {} are free of a face of {}", it.name(), words(free, Kind::Area), words(face, Kind::Area));
    (free > face * 1.01).then(|| Clash::Impossible(message()))
}

fn face(it: &Fact<'_>) -> Option<Clash> {
    let (stated, drawn) = (it.amount("/gross_area", Kind::Area)?, by_sizes(it)?);
    let share = stated / drawn;
    let message = || {
        format!(
            "{}: its face is said to be {}, its sizes make {}",
            it.name(),
            words(stated, Kind::Area),
            words(drawn, Kind::Area)
        )
    };
    match share {
        share if share > 1.05 => Some(Clash::Impossible(message())),
        share if share < 0.5 => Some(Clash::Odd(message())),
        _ => None,
    }
}

fn same_space(it: &Fact<'_>) -> Option<Clash> {
    let (own, other) = (it.word("/space")?, it.word("/beyond/space")?);
    (own == other).then(|| Clash::Impossible(format!("{}: {own} is on both of its sides", it.name())))
}

fn beyond(it: &Fact<'_>) -> Option<Clash> {
    let (kind, space) = (it.word("/beyond/kind")?, it.word("/beyond/space")?);
    let elsewhere = matches!(kind, "outdoors" | "ground");
    elsewhere.then(|| Clash::Impossible(format!("{}: {space} is on its other side, and so is {kind}", it.name())))
}

fn solid_door(it: &Fact<'_>) -> Option<Clash> {
    let free = it.amount("/free_area", Kind::Area)?;
    let solid = it.flag("/door/solid")? && free > 0.0;
    solid.then(|| {
        Clash::Impossible(format!("{}: its leaf has no opening, and {} of it are free", it.name(), words(free, Kind::Area)))
    })
}

fn no_screen(it: &Fact<'_>) -> Option<Clash> {
    let none = it.flag("/screen/fitted") == Some(false) && it.has("/screen/mesh");
    none.then(|| Clash::Odd(format!("{}: no screen is fitted, and its mesh is told", it.name())))
}

fn path(it: &Fact<'_>) -> Option<Clash> {
    let (path, id) = (it.word("/path")?, it.word("/duct")?);
    let runs = it.named("/ducts/*", id)?.word("/orientation")?;
    let clash = matches!((path, runs), ("vertical-duct", "horizontal") | ("horizontal-duct", "vertical"));
    clash.then(|| {
        Clash::Impossible(format!("{}: its air comes by {}, and its duct {id} runs {runs}", it.name(), path.replace('-', " ")))
    })
}

/// Floor area: by the outline less its holes, else as stated.
fn area(it: &Fact<'_>) -> Option<f64> {
    outlined(it).or_else(|| it.amount("/floor_area", Kind::Area))
}

fn outlined(it: &Fact<'_>) -> Option<f64> {
    let holes: f64 = it.list("/holes").iter().filter_map(|hole| enclosed(hole.as_array()?)).sum();
    Some(enclosed(it.list("/outline"))? - holes).filter(|area| *area > 0.0)
}

/// A sloped ceiling makes more or less than floor times height; three times as much is a slip.
fn volume(it: &Fact<'_>) -> Option<Clash> {
    let (stated, area, height) = (it.amount("/volume", Kind::Volume)?, area(it)?, it.amount("/ceiling_height", Kind::Length)?);
    let made = area * height;
    let message = || {
        format!(
            "{}: its volume is said to be {}, floor and ceiling make {}",
            it.name(),
            words(stated, Kind::Volume),
            words(made, Kind::Volume)
        )
    };
    match stated / made {
        share if !(1.0 / 3.0..=3.0).contains(&share) => Some(Clash::Impossible(message())),
        share if !(0.8..=1.25).contains(&share) => Some(Clash::Odd(message())),
        _ => None,
    }
}

fn floor_area(it: &Fact<'_>) -> Option<Clash> {
    let (stated, drawn) = (it.amount("/floor_area", Kind::Area)?, outlined(it)?);
    let message = || {
        format!(
            "{}: its floor is said to be {}, its outline encloses {}",
            it.name(),
            words(stated, Kind::Area),
            words(drawn, Kind::Area)
        )
    };
    match stated / drawn {
        share if !(0.7..=1.3).contains(&share) => Some(Clash::Impossible(message())),
        share if !(0.95..=1.05).contains(&share) => Some(Clash::Odd(message())),
        _ => None,
    }
}

fn conditioned(it: &Fact<'_>) -> Option<Clash> {
    let both = it.flag("/conditioned") == Some(true) && it.flag("/vented_to_outdoors") == Some(true);
    both.then(|| Clash::Odd(format!("{}: it lies inside the thermal envelope and is vented to outdoors", it.name())))
}

fn house_area(it: &Fact<'_>) -> Option<Clash> {
    let house = it.amount("/building/conditioned_floor_area", Kind::Area)?;
    // Of a house for several households either one unit or all of them may be meant.
    if it.count("/building/dwelling_units").is_some_and(|units| units > 1) {
        return None;
    }
    let rooms = it.others("/spaces/*");
    let inside = rooms.iter().filter(|room| {
        room.flag("/conditioned") == Some(true)
            && !matches!(room.word("/kind"), Some("attic" | "crawl-space" | "plenum" | "shaft"))
    });
    let rooms: f64 = inside.filter_map(area).sum();
    let message = || {
        format!(
            "the conditioned rooms come to {}, the house is said to have {}",
            words(rooms, Kind::Area),
            words(house, Kind::Area)
        )
    };
    match rooms / house {
        share if share > 2.0 => Some(Clash::Impossible(message())),
        share if share > 1.2 => Some(Clash::Odd(message())),
        _ => None,
    }
}

fn bedrooms(it: &Fact<'_>) -> Option<Clash> {
    let said = it.number("/building/bedrooms")?;
    let several = it.count("/building/dwelling_units").is_some_and(|units| units > 1);
    let listed = it.others("/spaces/*").iter().filter(|room| room.word("/kind") == Some("sleeping-room")).count();
    let message = || format!("the building is said to have {said} sleeping rooms, {listed} are listed");
    (!several && listed as f64 > said).then(|| Clash::Odd(message()))
}
