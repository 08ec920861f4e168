//! Upright solids: a shape in plan between two heights.

use super::{Point, Shape, TOUCHING};

/// An upright solid: a shape in plan between two heights above the floor.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// Its plan.
    pub plan: Shape,
    /// Height of its underside.
    pub bottom: f64,
    /// Height of its top.
    pub top: f64,
}

/// How two solids lie in each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Overlap {
    /// The least distance one must be moved to come free of the other, sideways or up or down.
    pub depth: f64,
    /// The least distance sideways alone.
    pub plan: f64,
    /// The height they share.
    pub height: f64,
}

/// The nearest points of two solids.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolidGap {
    /// How far apart they are, through the air.
    pub distance: f64,
    /// How far apart they are in plan.
    pub plan: f64,
    /// How far apart they are in height.
    pub height: f64,
    /// The nearest point of the first, with its height.
    pub from: (Point, f64),
    /// The nearest point of the second.
    pub to: (Point, f64),
}

impl Solid {
    /// A solid; the heights may come in either order.
    pub fn new(plan: Shape, bottom: f64, top: f64) -> Self {
        Self { plan, bottom: bottom.min(top), top: bottom.max(top) }
    }

    /// Whether the two share some height; touching is not sharing.
    pub fn shares_height(&self, other: &Self) -> bool {
        self.top.min(other.top) - self.bottom.max(other.bottom) > TOUCHING
    }

    /// How this and another lie in each other; `None` where they touch or are apart.
    pub fn overlap(&self, other: &Self) -> Option<Overlap> {
        let height = self.top.min(other.top) - self.bottom.max(other.bottom);
        if height <= TOUCHING {
            return None;
        }
        let plan = self.plan.overlap(&other.plan)?;
        let lift = (self.top - other.bottom).min(other.top - self.bottom);
        Some(Overlap { depth: plan.min(lift), plan, height })
    }

    /// The nearest points of this and another, in plan and in height.
    pub fn gap(&self, other: &Self) -> SolidGap {
        let gap = self.plan.gap(&other.plan);
        let (from, to) = if other.bottom > self.top {
            (self.top, other.bottom)
        } else if self.bottom > other.top {
            (self.bottom, other.top)
        } else {
            let shared = self.bottom.max(other.bottom);
            (shared, shared)
        };
        let height = (to - from).abs();
        SolidGap {
            distance: libm::hypot(gap.distance, height),
            plan: gap.distance,
            height,
            from: (gap.from, from),
            to: (gap.to, to),
        }
    }

    /// Its least and greatest corner, for a mark.
    pub fn corners(&self) -> ([f64; 3], [f64; 3]) {
        let (least, most) = self.plan.bounds();
        ([least.x, least.y, self.bottom], [most.x, most.y, self.top])
    }
}

/// The one of many that lies deepest in a zone, with how deep: its place in the list. The first of equals.
pub fn deepest<'s>(zone: &Solid, others: impl IntoIterator<Item = &'s Solid>) -> Option<(usize, Overlap)> {
    let mut best: Option<(usize, Overlap)> = None;
    for (index, other) in others.into_iter().enumerate() {
        let Some(overlap) = zone.overlap(other) else { continue };
        if best.is_none_or(|(_, so_far)| overlap.depth > so_far.depth + TOUCHING) {
            best = Some((index, overlap));
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::space::point;

    #[test]
    fn a_box_above_is_no_overlap_and_has_a_distance_through_the_air() {
        let low = Solid::new(Shape::rectangle(point(0.0, 0.0), point(1.0, 0.0), 1.0, 1.0), 0.0, 1.0);
        let high = Solid::new(Shape::rectangle(point(5.0, 0.0), point(1.0, 0.0), 1.0, 1.0), 5.0, 6.0);
        assert_eq!((low.overlap(&high), low.gap(&high).distance), (None, 5.0));
        let on_top = Solid::new(low.plan.clone(), 1.0, 2.0);
        assert_eq!((low.overlap(&on_top), low.gap(&on_top).distance), (None, 0.0));
    }

    #[test]
    fn the_deepest_of_many_is_named() {
        let zone = Solid::new(Shape::rectangle(point(0.0, 0.0), point(1.0, 0.0), 1.0, 1.0), 0.0, 2.0);
        let at = |x: f64| Solid::new(Shape::rectangle(point(x, 0.0), point(1.0, 0.0), 0.5, 0.5), 0.0, 1.5);
        let (index, overlap) = deepest(&zone, [&at(3.0), &at(1.4), &at(1.2)]).unwrap();
        assert!(index == 2 && (overlap.plan - 0.3).abs() < 1e-12 && (overlap.height - 1.5).abs() < 1e-12, "{overlap:?}");
    }
}
