//! Hot water pipes of 3/4 in and larger must be insulated.
//!
//! Every draw leaves a pipe full of hot water to cool; a bare pipe wastes it twice as fast. **Bare hot pipe in reach burns.**
//!
//! **How it is measured.** Nominal size and R-value of each hot pipe.
//!
//! **How it is fixed.** Foam sleeves of R-3, half an inch of wall, taped at the joints, on the whole length.

use redtag_rule::prelude::*;

/// From which size on.
const FROM: Quantity<dimensions::Length> = Quantity::new(
    "from_size",
    "0.75 in",
    "Hot pipes of this nominal size and larger are insulated.",
    "from memory of IRC N1103.5.3 (IECC R403.5.3)",
)
.within("0.25 in", "4 in");
/// How well.
const INSULATION: Quantity<dimensions::ThermalResistance> =
    Quantity::new("insulation", "R-3", "The least insulation.", "from memory of IRC N1103.5.3 (IECC R403.5.3)")
        .within("R-0", "R-12");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "N1103.5.3"), remembered("IECC", "2021", "R403.5.3")],
    parameters: &[&FROM, &INSULATION],
    reads: &["/water"],
    ..Rule::new("water-heating/hot-pipe-insulation", "Insulated hot pipes", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |pipe: Place<'_, WaterPipe>| {
        if pipe.kind != WaterPipeKind::Hot {
            return pipe.not_applicable(text!("not a hot pipe")).done();
        }
        pipe.sheet("whether the hot pipe is insulated", |sheet| judge(inquiry, &pipe, sheet))
    };
    need!(inquiry.project(), water.pipes).every().into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, pipe: &Place<WaterPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    let size = need!(pipe, size)?;
    let from = inquiry.value(&FROM);
    if !at_least(size.quantity(), from) {
        return Ok(text!("{} is below the {} that want it", size, in_unit(from, "in")));
    }
    let has = need!(pipe, insulation)?;
    let least = quantity::ThermalResistance::from_quantity(&inquiry.value(&INSULATION));
    if !sheet.at_least("insulation", &has, &least, "", "IRC N1103.5.3, from memory") {
        sheet.fault(text!("{} of hot pipe has {}, {} is the least", size, has, least));
        sheet.cure_at(text!("insulate it to {}", least), &[(has.pointer().to_owned(), json!(least.print_in("R")))]);
    }
    Ok(text!("insulated with {}", has))
}
