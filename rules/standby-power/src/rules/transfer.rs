//! Transfer equipment must be listed, rated for what it switches, and keep the two sources apart.
//!
//! A source that feeds back into the street kills the line worker; two sources that meet out of step wreck each other; a switch
//! rated for less than the breaker ahead of it burns.
//!
//! **How it is measured.** Listing (of an interlock: for that panel). Rating against the overcurrent device ahead of it and against
//! the load it transfers by Article 220. A microgrid interconnect device opens every ungrounded conductor to the utility by itself
//! and leaves the neutral whole; one that takes the service must be rated for service equipment.
//!
//! **How it is fixed.** Listed equipment of the rating of the device ahead.

use crate::{demand, loads, source};
use redtag_handbook::load as trade;
use redtag_rule::prelude::*;

/// The rule.
pub const RULE: Rule = Rule {
    citations: &[
        cited("NEC", "2023", "702.5"),
        remembered("NEC", "2020", "705.40"),
        remembered("NEC", "2020", "705.70"),
        remembered("NEC", "2023", "230.66"),
    ],
    parameters: &[&demand::METHOD, &demand::VEHICLE],
    reads: &["/spaces", "/equipment", "/electrical"],
    ..Rule::new("standby-power/transfer", "Transfer equipment", check)
};

const WANTED: &str = "whether it keeps the sources apart and carries the load";
const SOURCE: &str = "NEC 702.5";

fn check(inquiry: &Inquiry) -> Vec<Finding> {
    let transfers = loads::transfers(inquiry);
    if transfers.is_empty() && loads::backed_up(inquiry).is_ok_and(|backed| !backed.is_empty()) {
        let wanted = "the transfer equipment through which loads run from the standby source";
        return vec![inquiry.project().ask(WANTED, || Err(Unresolved::because("/electrical/transfers", wanted)))];
    }
    transfers
        .iter()
        .map(|transfer| {
            transfer.sheet(WANTED, |sheet| {
                let words = judge(inquiry, transfer, sheet);
                if !sheet.sound() {
                    crate::plan::mark(inquiry, need!(transfer, equipment), "transfer equipment", sheet);
                }
                words
            })
        })
        .collect()
}

fn judge<'a>(inquiry: &Inquiry<'a>, transfer: &Place<'a, Transfer>, sheet: &mut Sheet) -> Lookup<Text> {
    if let Some(listed) = sheet.want(need!(transfer, listed)) {
        let words = text!("is {}", if *listed { "listed" } else { "not listed" });
        if !sheet.require("listing", words, SOURCE, *listed) {
            sheet.cure_at(
                text!("use listed transfer equipment; an interlock listed for that panel"),
                &[(listed.pointer().to_owned(), json!(true))],
            );
        }
    }
    if matches!(transfer.kind, TransferKind::MicrogridInterconnect) {
        island(transfer, sheet);
    }
    service(inquiry, transfer, sheet);
    let rating = need!(transfer, rating)?;
    if let Some(ahead) = sheet.want(need!(transfer, overcurrent_ahead)) {
        let words = text!("is rated {}, the device ahead of it {}", rating, ahead);
        if !sheet.require("device ahead", words, SOURCE, at_least(rating.quantity(), ahead.quantity())) {
            cure(&rating, ahead.get(), sheet);
        }
    }
    let backed = loads::on(inquiry, transfer)?;
    redtag_rule_load::whole(inquiry, sheet);
    let load = trade::current(demand::of(inquiry, &backed, Some(rating.quantity()), sheet)?, source::line_to_line());
    let words = text!("is rated {}, the load transferred is {}", rating, load);
    if !sheet.require("load", words, SOURCE, at_least(rating.quantity(), load)) {
        sheet.cure(text!("equipment rated {} at least, or fewer loads behind it", load));
    }
    Ok(text!("is rated {} and transfers {}", rating, load))
}

fn cure(
    rating: &Place<redtag_rule::schema::quantity::Current>,
    least: &redtag_rule::schema::quantity::Current,
    sheet: &mut Sheet,
) {
    let amperes = least.quantity().get::<uom::si::electric_current::ampere>();
    sheet.cure_at(
        text!("equipment rated {} at least, or a smaller device ahead of it", least),
        &[(rating.pointer().to_owned(), json!(format!("{amperes} A")))],
    );
}

fn island(transfer: &Place<Transfer>, sheet: &mut Sheet) {
    let source = "from memory of NEC 705.40 and 705.70";
    if let Some(opens) = sheet.want(need!(transfer, opens_by_itself)) {
        let does = if *opens { "opens" } else { "does not open" };
        let words = text!("{} every ungrounded conductor to the utility by itself", does);
        if !sheet.require("islanding", words, source, *opens) {
            sheet.cure_at(
                text!("a listed device that parts the house from the utility by itself"),
                &[(opens.pointer().to_owned(), json!(true))],
            );
        }
    }
    if let Some(switches) = sheet.want(need!(transfer, switches_neutral)) {
        let words =
            text!("{}", if *switches { "switches the neutral, which must stay whole" } else { "leaves the neutral whole" });
        if !sheet.require("neutral", words, source, !*switches) {
            sheet.cure_at(text!("a device that leaves the neutral whole"), &[(switches.pointer().to_owned(), json!(false))]);
        }
    }
}

/// Where the service itself goes through it.
fn service(inquiry: &Inquiry, transfer: &Place<Transfer>, sheet: &mut Sheet) {
    let Ok(normal) = need!(transfer, normal) else { return };
    if need!(inquiry.project(), electrical.services).named(&normal).is_err() {
        return;
    }
    if let Some(rated) = sheet.want(need!(transfer, service_rated)) {
        let words = text!("takes the service and is {}suitable as service equipment", if *rated { "" } else { "not " });
        if !sheet.require("service equipment", words, "from memory of NEC 230.66", *rated) {
            sheet.cure_at(text!("equipment suitable for use as service equipment"), &[(rated.pointer().to_owned(), json!(true))]);
        }
    }
}
