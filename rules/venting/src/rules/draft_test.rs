//! Before it is handed over, an appliance with a draft hood is shown to draw with everything running that pulls air out of the house.
//!
//! A kitchen hood and a dryer together can turn a vent around. The test finds it before people sleep there: five minutes after firing no
//! gases come out of the draft hood, doors and windows shut, every fan running. Testing burners is work for a licensed contractor; if an
//! alarm sounds or people feel sick, leave and call for help from outside.
//!
//! **How it is measured.** At the final inspection, for every gas appliance with a draft hood that takes air from the house: that the test was
//! made under the worst conditions, that nothing spilled, and who saw it.
//!
//! **How it is fixed.** Make-up air for the fans, a better vent, or an appliance that brings its own air; then the test again.

use crate::appliances::may_have;
use redtag_rule::prelude::*;

const SOURCE: &str = "NFPA 54 11.6, from memory; the procedure stands in IFGC appendix D";

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("NFPA 54", "2021", "11.6"), remembered("IFGC", "2021", "Appendix D")],
    reads: &["/equipment"],
    stages: &[Stage::Final],
    ..Rule::new("venting/draft-test", "Draft shown before hand-over", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let all = need!(inquiry.project(), equipment).every();
    let hooded = |item: &&Place<Equipment>| may_have(item, Burner::DraftHood);
    all.iter().filter(hooded).map(|item| item.sheet("whether it draws", |sheet| judge(sheet, item))).collect()
}

fn judge(sheet: &mut Sheet, item: &Place<Equipment>) -> Lookup<Text> {
    kinds::burns(item)?;
    need!(item, fuel_burning.burner)?;
    if let Some(worst) = sheet.want(need!(item, fuel_burning.draft_test.worst_case)) {
        let words = text!("tested {} every fan running", if *worst { "with" } else { "without" });
        if !sheet.require("conditions", words, SOURCE, *worst) {
            sheet.cure(text!("test it again with doors and windows shut and every exhaust running"));
        }
    }
    if let Some(spills) = sheet.want(need!(item, fuel_burning.draft_test.spills)) {
        let words = text!("its draft hood {} after five minutes", if *spills { "spills" } else { "does not spill" });
        if !sheet.require("draft", words, SOURCE, !*spills) {
            sheet.cure(text!("shut it off until the cause is found: give the fans make-up air, mend the vent, test again"));
        }
    }
    sheet.want(need!(item, fuel_burning.draft_test.evidence.document));
    Ok(text!("shown to draw with every fan running"))
}
