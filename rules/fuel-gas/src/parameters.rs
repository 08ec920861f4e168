//! What a pack may set, where several rules read it.

use redtag_rule::prelude::*;

/// Above this elevation the demand follows the input an appliance is set to.
pub const ALTITUDE_FROM: Quantity<dimensions::Position> = Quantity::new(
    "altitude_from",
    "2,000 ft",
    "Above this elevation an appliance draws the input it is set to for the elevation, where the project states it.",
    "IRC G2413.2 (IFGC 402.2)",
)
.within("0 ft", "10,000 ft")
.figure();

/// Whether the demand follows the elevation at all.
pub const ALTITUDE_DEMAND: Choice = Choice::new(
    "altitude_demand",
    "as-set",
    &["as-set", "by-plate"],
    "Whether the demand above that elevation is the input the appliance is set to, or that of its plate everywhere.",
    "IRC G2413.2 (IFGC 402.2): demand is adjusted for altitude",
)
.figure();

/// How fittings count.
pub const FITTINGS: Choice = Choice::new(
    "fitting_lengths",
    "four-or-more",
    &["four-or-more", "all", "half", "none"],
    "Whether fittings add their equivalent length: of runs with four or more of them from the start of a zone to its end, because the \
     tables allow for a few; of all; half the measured length instead; or not at all.",
    "2018 IFGC appendix A (four or more); appendix A.6 (half)",
);

/// Which of the two ways of finding a capacity decides.
pub const BASIS: Choice = Choice::new(
    "basis",
    "table",
    &["table", "equation"],
    "Whether the printed tables or the equations decide where they part. Both are always shown.",
    "IRC G2413.3 and G2413.4 (IFGC 402.3, 402.4) allow either; one is chosen so that all plans are judged alike",
);

/// Whether the code's own table may size corrugated tubing.
pub const GENERIC_TUBING: Flag = Flag::new(
    "code_table_for_tubing",
    false,
    "Whether corrugated tubing whose maker's table is not in the project may be held against the code's own table.",
    "IRC G2413.3 (IFGC 402.3): listed piping systems are sized by their own tables",
)
.figure();

/// From this utilisation on a pipe is worth a word.
pub const CLOSE: Quantity<dimensions::Ratio> = Quantity::new(
    "close_to_full",
    "95 %",
    "A pipe that carries more than this part of its capacity is mentioned: the next appliance will not fit.",
    "common practice: a margin for what is added later",
)
.within("50 %", "100 %");

/// How the demand follows the elevation.
pub struct Altitude {
    from: uom::si::f64::Length,
    as_set: bool,
}

impl Altitude {
    /// Whether the site lies above the elevation; an elevation that is not said changes nothing, which is the safe side.
    pub fn applies(&self, inquiry: &Inquiry) -> bool {
        let elevation = need!(inquiry.project(), site.elevation);
        self.as_set && elevation.is_ok_and(|elevation| !at_most(elevation.quantity(), self.from))
    }
}

/// What the pack says about demand and elevation.
pub fn altitude(inquiry: &Inquiry) -> Altitude {
    Altitude { from: inquiry.value(&ALTITUDE_FROM), as_set: inquiry.value(&ALTITUDE_DEMAND) == "as-set" }
}
