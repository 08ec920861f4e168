//! The way to an appliance in an attic or a crawl space, through a hatch: what both have in common.

use redtag_rule::prelude::*;
use redtag_rule_space::length;
use uom::si::f64::Length as Metres;
use uom::si::length::meter;

/// The sizes asked for.
pub struct Asked {
    /// The lesser side of the hatch.
    pub opening_least: Metres,
    /// Its greater side.
    pub opening_most: Metres,
    /// Height of the passage.
    pub height: Metres,
    /// Width of the passage.
    pub width: Metres,
    /// Its length.
    pub long: Metres,
    /// Level service space, both ways.
    pub service: Metres,
    /// Where the figures stand.
    pub source: &'static str,
}

/// The hatch: both its sides, and whether the largest piece passes it.
pub fn opening(space: &Place<Space>, one: &Place<Equipment>, asked: &Asked, sheet: &mut Sheet) {
    let sides = (need!(space, access.opening_width), need!(space, access.opening_length)).together();
    let Some((width, across)) = sheet.want(sides) else { return };
    let (small, large) = (width.si().min(across.si()), width.si().max(across.si()));
    let holds = [
        sheet.at_least("lesser side of the opening", &length(small), &asked.opening_least, "in", asked.source),
        sheet.at_least("greater side of the opening", &length(large), &asked.opening_most, "in", asked.source),
    ];
    if holds.contains(&false) {
        sheet.fault(text!(
            "the opening is {} by {}, {} by {} is the least",
            in_unit(length(small), "in"),
            in_unit(length(large), "in"),
            in_unit(asked.opening_least, "in"),
            in_unit(asked.opening_most, "in")
        ));
        let at = |field: &str| format!("{}/access/{field}", space.pointer());
        let values =
            [(at("opening_width"), wider(small, asked.opening_least)), (at("opening_length"), wider(large, asked.opening_most))];
        sheet.cure_at(
            text!(
                "enlarge the opening to {} by {}",
                in_unit(length(small).max(asked.opening_least), "in"),
                in_unit(length(large).max(asked.opening_most), "in")
            ),
            &values,
        );
    }
    piece(one, (small, large), asked, sheet);
}

fn wider(there: f64, least: Metres) -> redtag_rule::Value {
    let inches = (there.max(least.get::<meter>()) / 0.0254 * 4.0 - 1e-6).ceil() / 4.0;
    json!(format!("{inches} in"))
}

/// The two lesser sides of the largest piece against the hatch.
fn piece(one: &Place<Equipment>, (small, large): (f64, f64), asked: &Asked, sheet: &mut Sheet) {
    let Some([first, second, _]) = sheet.want(largest(one)) else { return };
    let fits = at_most(length(first), length(small)) && at_most(length(second), length(large));
    let words = text!(
        "the largest piece, {} by {} across, through the opening of {} by {}",
        in_unit(length(first), "in"),
        in_unit(length(second), "in"),
        in_unit(length(small), "in"),
        in_unit(length(large), "in")
    );
    if !sheet.test("largest piece", words, asked.source, fits) {
        sheet.fault(text!(
            "the largest piece, {} by {} across, does not pass the opening of {} by {}",
            in_unit(length(first), "in"),
            in_unit(length(second), "in"),
            in_unit(length(small), "in"),
            in_unit(length(large), "in")
        ));
    }
}

/// The sides of the largest piece that must be carried out, from the least to the greatest: of the part that is said, else of
/// the whole body.
pub fn largest(one: &Place<Equipment>) -> Lookup<[f64; 3]> {
    let part = one.service.as_ref().and_then(|service| service.largest_part.as_ref());
    let mut sides = match part {
        Some(part) => {
            let at = |field: &str| one.missing(&format!("/service/largest_part/{field}"));
            let width = part.width.as_ref().map(|width| width.si()).ok_or_else(|| at("width"));
            let depth = match (part.footprint, part.depth.as_ref()) {
                (Some(Footprint::Circle), _) => width.clone(),
                (_, depth) => depth.map(|depth| depth.si()).ok_or_else(|| at("depth")),
            };
            let height = part.height.as_ref().map(|height| height.si()).ok_or_else(|| at("height"));
            let (width, depth, height) = (width, depth, height).together()?;
            [width, depth, height]
        }
        None => {
            let at = |field: &str| one.missing(&format!("/placement/{field}"));
            let placement = one.placement.as_ref();
            let width =
                placement.and_then(|placement| placement.width.as_ref()).map(|width| width.si()).ok_or_else(|| at("width"));
            let round = placement.is_some_and(|placement| placement.footprint == Some(Footprint::Circle));
            let depth =
                placement.and_then(|placement| placement.depth.as_ref()).map(|depth| depth.si()).ok_or_else(|| at("depth"));
            let depth = if round { width.clone() } else { depth };
            let height =
                placement.and_then(|placement| placement.height.as_ref()).map(|height| height.si()).ok_or_else(|| at("height"));
            let (width, depth, height) = (width, depth, height).together()?;
            [width, depth, height]
        }
    };
    sides.sort_by(f64::total_cmp);
    Ok(sides)
}

/// A passage in which one can stand: from which height on, and how long it may then be; without that it may be of any length.
pub struct Standing {
    /// The height.
    pub height: Metres,
    /// The greatest length.
    pub long: Option<Metres>,
}

/// The passage from the hatch to the appliance.
pub fn way(space: &Place<Space>, asked: &Asked, standing: &Standing, sheet: &mut Sheet) {
    let height = sheet.want(need!(space, access.passage_height));
    let width = sheet.want(need!(space, access.passage_width));
    let long = sheet.want(need!(space, access.passage_length));
    if let Some(height) = &height
        && !sheet.at_least("height of the passage", height, &asked.height, "in", asked.source)
    {
        sheet.fault(text!("the passage is {} high, {} is the least", height, in_unit(asked.height, "in")));
    }
    if let Some(width) = &width
        && !sheet.at_least("width of the passage", width, &asked.width, "in", asked.source)
    {
        sheet.fault(text!("the passage is {} wide, {} is the least", width, in_unit(asked.width, "in")));
    }
    let tall = height.as_ref().is_some_and(|height| at_least(height.quantity(), standing.height));
    let most = if tall { standing.long } else { Some(asked.long) };
    let Some(most) = most else {
        return sheet.line("length of the passage", text!("not limited: one can stand in the passage"), asked.source);
    };
    if let Some(long) = &long
        && !sheet.at_most("length of the passage", long, &most, "ft", asked.source)
    {
        sheet.fault(text!("the passage is {} long, {} is the most", in_unit(long, "ft"), in_unit(most, "ft")));
    }
}

/// The level service space before the appliance.
pub fn service_space(space: &Place<Space>, asked: &Asked, sheet: &mut Sheet) {
    let sides = (need!(space, access.service_width), need!(space, access.service_depth)).together();
    let Some((width, depth)) = sheet.want(sides) else { return };
    let holds = [
        sheet.at_least("width of the service space", &width, &asked.service, "in", asked.source),
        sheet.at_least("depth of the service space", &depth, &asked.service, "in", asked.source),
    ];
    if holds.contains(&false) {
        sheet.fault(text!(
            "the service space is {} by {}, {} both ways is the least",
            width,
            depth,
            in_unit(asked.service, "in")
        ));
    }
}
