//! Shapes on the plan.

use redtag_rule::prelude::*;

/// A line from the middle of an appliance to where its vent ends, or a point at the appliance where the end has no place.
pub fn connector(sheet: &mut Sheet, appliance: &Place<Equipment>, vent: &Place<Vent>, label: &str) {
    let Some(placement) = &appliance.placement else { return };
    let (Some(x), Some(y)) = (&placement.x, &placement.y) else { return };
    let top = placement.base.as_ref().map_or(0.0, |base| base.si()) + placement.height.as_ref().map_or(0.0, |height| height.si());
    let from = [x.si(), y.si(), top];
    let space = appliance.space.as_deref();
    match vent.terminal.as_ref().and_then(|terminal| terminal.at.as_ref()) {
        Some(at) => sheet.mark(line_mark(space, label, &[from, [at.x.si(), at.y.si(), top]])),
        None => sheet.mark(point_mark(space, label, from)),
    }
}

/// A slope of a parameter in a sentence.
pub fn slope(slope: uom::si::f64::Ratio) -> redtag_rule::Part {
    use redtag_rule::schema::contract::Measure;
    use redtag_rule::schema::quantity::Kind;
    redtag_rule::Part::Amount(Measure { kind: Kind::Slope, si: slope.value, unit: None, written: None })
}
