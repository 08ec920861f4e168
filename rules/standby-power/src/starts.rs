//! What loads draw while they start.

use crate::loads;
use redtag_handbook::{load as trade, standby};
use redtag_rule::prelude::*;
use redtag_rule_load::{kva, va};
use uom::si::f64::{ElectricCurrent, Power, Ratio, Time};

const PRACTICE: &str = "common practice; from memory";
/// A soft start.
pub const SOFT: Quantity<dimensions::Ratio> = Quantity::new(
    "soft_start_share",
    "50 %",
    "Share of the locked-rotor current a soft start lets through where the project does not say.",
    "common practice: 30 to 50 %; from memory",
)
.within("10 %", "100 %");
/// A drive.
pub const DRIVE: Quantity<dimensions::Ratio> = Quantity::new(
    "drive_share",
    "20 %",
    "Share of the locked-rotor current a variable-speed drive lets through where the project does not say.",
    "common practice: 15 to 20 %; from memory",
)
.within("5 %", "100 %");
/// How long it takes.
pub const TIME: Quantity<dimensions::Duration> = Quantity::new(
    "starting_time",
    "1 s",
    "How long a motor takes to start where the project does not say.",
    "common practice: pumps 0.2 to 1 s; from memory",
)
.within("0.1 s", "30 s");
/// The table.
pub const TABLE: Flag = Flag::new(
    "table_stands_in",
    true,
    "Whether the table of locked-rotor currents by power may stand in where nothing of the motor itself is said.",
    "NEC Table 430.251(A); a published well pump draws 10 % more than the table says",
);

/// How a load starts.
pub struct Starting {
    /// Apparent power while it starts, soft start included.
    pub power: Power,
    /// The same without the soft start.
    pub direct: Power,
    /// Its locked-rotor current without the soft start, where that is known.
    pub current: Option<ElectricCurrent>,
    /// Share that its soft start lets through.
    pub share: Ratio,
    /// How long it takes.
    pub time: Time,
}

/// Whether a load draws more while it starts: it says so, or it is a pump or has a compressor, whatever is said of its motor.
pub fn surges(inquiry: &Inquiry, load: &Place<Load>) -> bool {
    load.starting.is_some() || loads::motor(inquiry, load).is_some() || is_motor(inquiry, load)
}

fn is_motor(inquiry: &Inquiry, load: &Place<Load>) -> bool {
    use EquipmentKind as K;
    let by_purpose = matches!(load.purpose, Some(LoadPurpose::HeatPump | LoadPurpose::AirConditioning));
    let kind = need!(load, equipment).and_then(|id| inquiry.equipment(&id)).map(|equipment| equipment.kind);
    by_purpose || matches!(kind, Ok(K::Pump | K::WellController | K::HeatPump | K::AirConditioner))
}

/// How a load starts, with the lines that say so.
///
/// # Errors
/// What is missing to tell.
pub fn of<'a>(inquiry: &Inquiry<'a>, load: &Place<'a, Load>, sheet: &mut Sheet) -> Lookup<Starting> {
    let motor = loads::motor(inquiry, load);
    let time = motor.as_ref().and_then(|motor| motor.starting_time.as_ref()).map_or(inquiry.value(&TIME), |time| time.quantity());
    let share = motor.as_ref().map_or_else(|| Ratio::new::<uom::si::ratio::ratio>(1.0), |motor| share(inquiry, motor));
    let Some(motor) = motor else {
        let wanted = "its motor: the locked-rotor current, or that a drive changes its speed";
        let starting = need!(load, starting);
        let power = starting.map_err(|_| Unresolved::because(format!("{}/motor", load.pointer()), wanted))?.quantity();
        sheet.line("while it starts", text!("{}: {}", load.label(), va(power)), "its plate");
        return Ok(Starting { power, direct: power, current: None, share, time });
    };
    if let Ok(locked) = need!(motor, locked_rotor_current) {
        let volts = loads::voltage(inquiry, load)?;
        let direct = trade::apparent(locked.quantity(), volts);
        let words = text!("{}: {} with its rotor locked × {} = {}", load.label(), locked, volts, kva(direct));
        sheet.line("while it starts", words, "its plate");
        return Ok(softened(direct, Some(locked.quantity()), share, time, sheet));
    }
    if let Ok(stated) = need!(load, starting) {
        let power = stated.quantity();
        sheet.line("while it starts", text!("{}: {} with the start it has", load.label(), kva(power)), "its plate");
        return Ok(Starting { power, direct: power, current: None, share: Ratio::new::<uom::si::ratio::ratio>(1.0), time });
    }
    if motor.variable_speed == Some(true) {
        return drive(inquiry, load, &motor, time, sheet);
    }
    let direct = by_table(inquiry, load, &motor, sheet)?;
    let current = loads::voltage(inquiry, load).ok().map(|volts| trade::current(direct, volts));
    Ok(softened(direct, current, share, time, sheet))
}

/// A motor that a drive starts has no locked-rotor current of its own: it draws no more than it does at full load.
fn drive<'a>(
    inquiry: &Inquiry<'a>,
    load: &Place<'a, Load>,
    motor: &Place<'a, Motor>,
    time: Time,
    sheet: &mut Sheet,
) -> Lookup<Starting> {
    let full_load = need!(motor, full_load_current)
        .and_then(|current| Ok(trade::apparent(current.quantity(), loads::voltage(inquiry, load)?)));
    let power = full_load.or_else(|_| loads::nameplate(load)).or_else(|_| need!(load, running).map(|power| power.quantity()))?;
    sheet.line("while it starts", text!("{}: {} at most, a drive starts it", load.label(), kva(power)), PRACTICE);
    Ok(Starting { power, direct: power, current: None, share: Ratio::new::<uom::si::ratio::ratio>(1.0), time })
}

fn softened(direct: Power, current: Option<ElectricCurrent>, share: Ratio, time: Time, sheet: &mut Sheet) -> Starting {
    let power = direct * share;
    if power < direct {
        sheet.line("soft start", text!("{} of it is {}", share, kva(power)), PRACTICE);
    }
    Starting { power, direct, current, share, time }
}

fn share(inquiry: &Inquiry, motor: &Place<Motor>) -> Ratio {
    if motor.soft_start != Some(true) && motor.variable_speed != Some(true) {
        return Ratio::new::<uom::si::ratio::ratio>(1.0);
    }
    let usual = if motor.variable_speed == Some(true) { inquiry.value(&DRIVE) } else { inquiry.value(&SOFT) };
    motor.soft_start_share.as_ref().map_or(usual, |share| share.quantity())
}

/// By code letter and power, else by power alone.
fn by_table(inquiry: &Inquiry, load: &Place<Load>, motor: &Place<Motor>, sheet: &mut Sheet) -> Lookup<Power> {
    let wanted = || {
        Unresolved::because(
            format!("{}/locked_rotor_current", motor.pointer()),
            "the locked-rotor current, or code letter and power",
        )
    };
    let power = need!(motor, power).map_err(|_| wanted())?;
    if let Ok(letter) = need!(motor, code_letter) {
        let direct = standby::locked_rotor_power(&letter, power.quantity()).ok_or_else(wanted)?;
        let words = text!("{}: code letter {} and {}: {} at most", load.label(), letter.as_str(), power, kva(direct));
        sheet.line("while it starts", words, standby::CODE_LETTERS.text());
        return Ok(direct);
    }
    let volts = loads::voltage(inquiry, load)?;
    let tabled = standby::locked_rotor_current(power.quantity(), volts).filter(|_| inquiry.value(&TABLE)).ok_or_else(wanted)?;
    let direct = trade::apparent(tabled, volts);
    let words = text!("{}: {} at {} by its power alone: {} × {} = {}", load.label(), power, volts, tabled, volts, kva(direct));
    sheet.line("while it starts", words, standby::LOCKED_ROTOR.text());
    Ok(direct)
}
