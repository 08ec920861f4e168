//! A hot-water loop must stop when nobody wants hot water.
//!
//! A loop that runs by itself or all day loses more heat than the taps use, and wears the pipe.
//!
//! **How it is measured.** What starts and stops the loop: a button or sensor on demand, a clock with temperature, nothing, or
//! warm water rising by itself. The insulation of its pipes.
//!
//! **How it is fixed.** A pump started by a button or sensor and stopped when warm water comes back; a check that keeps water from
//! circling by itself. Its pipes are hot enough to *scald where they are bare.**

use redtag_rule::prelude::*;

/// What may start it.
const CONTROLS: Choices = Choices::new(
    "controls",
    &["on-demand", "automatic"],
    &["on-demand", "automatic", "continuous", "thermosiphon"],
    "How a loop may be controlled.",
    "from memory of IRC N1103.5.1 (IECC R403.5.1)",
);
/// How well insulated.
const INSULATION: Quantity<dimensions::ThermalResistance> =
    Quantity::new("insulation", "R-3", "The least insulation of its pipes.", "from memory of IRC N1103.5.3 (IECC R403.5.3)")
        .within("R-0", "R-12");

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[remembered("IRC", "2021", "N1103.5.1"), remembered("IECC", "2021", "R403.5.1")],
    parameters: &[&CONTROLS, &INSULATION],
    reads: &["/water"],
    ..Rule::new("water-heating/recirculation", "A loop that stops when nobody wants it", check)
};

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let judged = |pipe: Place<'_, WaterPipe>| {
        if pipe.kind != WaterPipeKind::Recirculation {
            return pipe.not_applicable(text!("no loop")).done();
        }
        pipe.sheet("whether the loop stops", |sheet| judge(inquiry, &pipe, sheet))
    };
    need!(inquiry.project(), water.pipes).every().into_iter().map(judged).collect()
}

fn judge(inquiry: &Inquiry, pipe: &Place<WaterPipe>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Some(control) = sheet.want(need!(inquiry.project(), water.recirculation)) {
        let holds = inquiry.value(&CONTROLS).contains(&control.word());
        if !sheet.test("control", text!("it runs {}", *control), "IRC N1103.5.1, from memory", holds) {
            sheet.fault(text!("the loop runs {}: it must start on demand or by temperature and stop", *control));
            sheet.cure_at(text!("a pump that starts on demand"), &[(control.pointer().to_owned(), json!("on-demand"))]);
        }
    }
    let least = quantity::ThermalResistance::from_quantity(&inquiry.value(&INSULATION));
    if let Some(has) = sheet.want(need!(pipe, insulation))
        && !sheet.at_least("insulation", &has, &least, "", "IRC N1103.5.3, from memory")
    {
        sheet.fault(text!("its pipe has {}, {} is the least", has, least));
        sheet.cure_at(
            text!("insulate it to {}", least),
            &[(has.pointer().to_owned(), json!(least.print(quantity::System::UsCustomary)))],
        );
    }
    Ok(text!("it stops, and its pipe is insulated"))
}
