//! Marks on the plan, where positions are given.

use redtag_rule::prelude::*;

/// Marks a node.
pub fn node(sheet: &mut Sheet, node: &Place<GasNode>, label: &str) {
    let height = node.elevation.as_ref().map_or(0.0, quantity::Position::si);
    if let Some(at) = &node.at {
        sheet.mark(point_mark(node.space.as_deref(), label, [at.x.si(), at.y.si(), height]));
    }
}

/// Marks a point in plan.
pub fn point(sheet: &mut Sheet, space: Option<&str>, at: Option<&Point>, label: &str) {
    if let Some(at) = at {
        sheet.mark(point_mark(space, label, [at.x.si(), at.y.si(), 0.0]));
    }
}

/// Marks a run of pipe.
pub fn pipe(sheet: &mut Sheet, pipe: &Place<GasSegment>, label: &str) {
    let height = pipe.height.as_ref().map_or(0.0, quantity::Length::si);
    let points: Vec<_> = pipe.line.iter().flatten().map(|at| [at.x.si(), at.y.si(), height]).collect();
    if points.len() > 1 {
        let space = pipe.spaces.as_ref().and_then(|spaces| spaces.first()).map(String::as_str);
        sheet.mark(line_mark(space, label, &points));
    }
}
