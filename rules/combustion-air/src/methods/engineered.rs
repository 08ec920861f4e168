//! An engineer's design, accepted by the authority.

use crate::air_space::AirSpace;
use crate::parameters::Limits;
use crate::trial::{Trial, Verdict};
use redtag_rule::prelude::*;

/// Looks for an engineer's document.
pub fn attempt(space: &AirSpace, _limits: &Limits) -> Trial {
    Trial::of("engineered system", "304.8", |sheet| {
        let Some(evidence) = space.engineered() else {
            return Ok(Verdict::Misses(text!("no engineer's document is given"), Vec::new()));
        };
        let document = need!(evidence, document)?;
        let accepted = need!(evidence, accepted)?;
        let text = text!("{}: {} by the authority", document.as_str(), if *accepted { "accepted" } else { "not accepted" });
        sheet.test("engineer's document", text.clone(), "IFGC 304.8", *accepted);
        if *accepted { Ok(Verdict::Passes(text)) } else { Ok(Verdict::Misses(text, Vec::new())) }
    })
}
