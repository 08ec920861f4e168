//! An appliance in an attic or under a floor has a light near it, with a switch at the opening.
//!
//! Nobody crawls over joists in the dark with both hands full, and nobody looks for a burner's fault by the light of a match.
//!
//! **How it is measured.** The luminaires of the space: one lights the appliance, or there is but one; its switch stands at the entry
//! and is worked by hand. The receptacle that belongs there too is another rule's.
//!
//! **How it is fixed.** A luminaire at the appliance, its switch beside the hatch. Wiring belongs to a licensed electrician.

use redtag_rule::prelude::*;

/// Where the switch is.
const AT_ENTRY: Flag = Flag::new(
    "switch_at_entry",
    true,
    "The switch of the light is at the opening of the attic or under-floor space.",
    "from memory of IRC M1305.1.2.1 and M1305.1.3.3 (before 2018 M1305.1.3.1 and M1305.1.4.3)",
);

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        remembered("IRC", "2021", "M1305.1.2.1"),
        remembered("IRC", "2021", "M1305.1.3.3"),
        remembered("NEC", "2020", "210.70(C)"),
    ],
    parameters: &[&AT_ENTRY],
    reads: &["/spaces", "/equipment"],
    ..Rule::new("access/appliance-light", "Light at appliances in attics and under floors", check)
};

const WANTED: &str = "whether there is a light at it";
const SOURCE: &str = "IRC M1305.1.2.1 and M1305.1.3.3, from memory";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    let appliances = all.into_iter().filter(|one| crate::served::appliance(one) && one.outdoors != Some(true));
    let judged = appliances.map(|one| match need!(one, space).and_then(|id| inquiry.space(&id)) {
        Err(unresolved) => one.ask(WANTED, || Err(unresolved)),
        Ok(space) if !crate::served::passage_of_its_own(&space) => {
            one.not_applicable(text!("stands neither in an attic nor under a floor")).done()
        }
        Ok(space) => one.sheet(WANTED, |sheet| judge(inquiry, &space, &one, sheet)),
    });
    judged.collect()
}

fn judge(inquiry: &Inquiry, space: &Place<Space>, one: &Place<Equipment>, sheet: &mut Sheet) -> Lookup<Text> {
    let all: Vec<Place<Luminaire>> = need!(space, luminaires)?.items().collect();
    let lights = |luminaire: &&Place<Luminaire>| luminaire.lights.as_ref().is_none_or(|lights| lights.contains(&one.id));
    let own: Vec<&Place<Luminaire>> = all.iter().filter(lights).collect();
    let Some(first) = own.first() else {
        sheet.fault(text!("no luminaire lights it in {}", space.label()));
        sheet.cure(text!("hang a luminaire at it, with a switch beside the opening"));
        return Ok(Text::default());
    };
    sheet.line("light", text!("luminaire {}", first.id), SOURCE);
    let controls: Vec<Lookup<bool>> = own.iter().map(|luminaire| switched(inquiry, luminaire)).collect();
    if controls.contains(&Ok(true)) {
        return Ok(text!("lit, with a switch at the opening"));
    }
    let untold: Vec<Unresolved> = controls.into_iter().filter_map(Result::err).collect();
    if untold.is_empty() {
        sheet.fault(text!("no switch that a hand can work at the opening turns its light on"));
        sheet.cure(text!("put the switch beside the opening"));
    }
    untold.into_iter().for_each(|unresolved| sheet.lack(unresolved));
    Ok(Text::default())
}

/// Whether a luminaire has a switch that a hand can work, at the entry where that is asked.
fn switched(inquiry: &Inquiry, luminaire: &Place<Luminaire>) -> Lookup<bool> {
    let id = need!(luminaire, switch)?;
    let spaces = need!(inquiry.project(), spaces).every();
    let found = spaces.iter().flat_map(|space| need!(space, switches).every()).find(|switch| switch.id == *id);
    let switch = found.ok_or_else(|| Unresolved::at(id.pointer()))?;
    let by_hand = matches!(switch.kind, SwitchKind::Manual | SwitchKind::AutomaticWithOverride);
    let at_entry = !inquiry.value(&AT_ENTRY) || *need!(switch, at_entry)?;
    Ok(by_hand && at_entry)
}
