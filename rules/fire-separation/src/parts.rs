//! The walls, floors and ceilings of the project with the spaces that describe them.

use redtag_rule::prelude::*;

/// A wall, floor or ceiling and the space that describes it.
#[derive(Clone)]
pub struct Part<'a> {
    /// The space.
    pub space: Place<'a, Space>,
    /// The wall, floor or ceiling.
    pub assembly: Place<'a, Assembly>,
}

/// All of them.
pub fn parts<'a>(inquiry: &Inquiry<'a>) -> Vec<Part<'a>> {
    spaces(inquiry).iter().flat_map(parts_of).collect()
}

/// Those of one space.
pub fn parts_of<'a>(space: &Place<'a, Space>) -> Vec<Part<'a>> {
    let of = |assembly| Part { space: space.clone(), assembly };
    need!(space, assemblies).every().into_iter().map(of).collect()
}

/// The spaces.
pub fn spaces<'a>(inquiry: &Inquiry<'a>) -> Vec<Place<'a, Space>> {
    need!(inquiry.project(), spaces).every()
}

impl Part<'_> {
    /// Whether it stands upright.
    pub fn is_wall(&self) -> bool {
        matches!(self.assembly.kind, AssemblyKind::Wall | AssemblyKind::FoundationWall)
    }

    /// Whether it lies over the space that describes it.
    pub fn is_overhead(&self) -> bool {
        matches!(self.assembly.kind, AssemblyKind::Ceiling | AssemblyKind::Roof)
    }

    /// What its framing is made of.
    ///
    /// # Errors
    /// Where it is not said.
    pub fn framing(&self) -> Lookup<FramingMaterial> {
        need!(self.assembly, framing.material).map(|material| *material.get())
    }
}

/// Whether a framing material burns.
pub fn burns(material: FramingMaterial) -> bool {
    use FramingMaterial as F;
    matches!(material, F::Wood | F::WoodIJoist | F::OpenWebTruss | F::CompositeLumber)
}

/// Whether a framing material is a mineral that stands for the board by itself.
pub fn mineral(material: FramingMaterial) -> bool {
    matches!(material, FramingMaterial::Concrete | FramingMaterial::Masonry)
}
