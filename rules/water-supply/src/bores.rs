//! Holes and notches in walls, floors and ceilings that carry water or drain pipes.

use redtag_rule::prelude::*;

/// A hole with the wall, floor or ceiling it is in and the space that describes that.
pub struct Bore<'a> {
    /// The assembly.
    pub assembly: Place<'a, Assembly>,
    /// The hole.
    pub hole: Place<'a, Penetration>,
    /// The space's id.
    pub space: String,
}

/// Every hole that carries a water or drain pipe, or any pipe that does not say what it is.
pub fn all<'a>(inquiry: &Inquiry<'a>) -> Vec<Bore<'a>> {
    let mut bores = Vec::new();
    for space in need!(inquiry.project(), spaces).every() {
        for assembly in need!(space, assemblies).every() {
            for hole in need!(assembly, penetrations).every() {
                if carries_water(inquiry, &hole) {
                    bores.push(Bore { assembly: assembly.clone(), hole, space: space.id.clone() });
                }
            }
        }
    }
    bores
}

/// The nominal size of the pipe in a hole.
///
/// # Errors
/// Where the pipe or its size is not told.
pub fn size<'a>(inquiry: &Inquiry<'a>, hole: &Place<'a, Penetration>) -> Lookup<Place<'a, quantity::Length>> {
    let carries = need!(hole, carries)?;
    if let Ok(pipe) = need!(inquiry.project(), water.pipes).named(&carries) {
        return need!(pipe, size);
    }
    let drain = need!(inquiry.project(), drainage.pipes).every().into_iter().find(|pipe| pipe.id == **carries);
    let drain = drain.ok_or_else(|| Unresolved::at(carries.pointer()))?;
    need!(drain, size)
}

fn carries_water(inquiry: &Inquiry, hole: &Place<Penetration>) -> bool {
    let Some(carries) = &hole.get().carries else {
        // A pipe that does not say what it is weakens a member all the same.
        return matches!(hole.kind, PenetrationKind::MetalPipe | PenetrationKind::PlasticPipe);
    };
    let water = need!(inquiry.project(), water.pipes).every().iter().any(|pipe| &pipe.id == carries);
    water || need!(inquiry.project(), drainage.pipes).every().iter().any(|pipe| &pipe.id == carries)
}
