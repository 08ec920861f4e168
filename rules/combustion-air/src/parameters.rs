//! What a pack may set about the supply of combustion air, and the figures of one case read from it.

use redtag_handbook::combustion_air as air;
use redtag_handbook::units::{self, FlowPerInput, InputPerArea, VolumePerInput};
use redtag_rule::Parameter;
use redtag_rule::prelude::*;
use uom::si::f64::{Area, Frequency, Length, Power, Ratio, Volume, VolumeRate};

type LengthOf = Quantity<dimensions::Length>;
type AreaOf = Quantity<dimensions::Area>;
type VolumeOf = Quantity<dimensions::Volume>;
type PowerOf = Quantity<dimensions::Power>;
type FlowOf = Quantity<dimensions::VolumeFlow>;
type RatioOf = Quantity<dimensions::Ratio>;
type RateOf = Quantity<dimensions::AirChangeRate>;

/// The methods a jurisdiction may allow.
pub const METHOD_WORDS: &[&str] = &["indoor", "two-openings", "one-opening", "combination", "mechanical", "engineered"];

/// The methods allowed here.
pub const METHODS: Choices = Choices::new(
    "methods",
    METHOD_WORDS,
    METHOD_WORDS,
    "The methods of supplying combustion air that are accepted here.",
    "IFGC 304.5 to 304.9",
);
/// Indoor volume by the standard method.
pub const STANDARD_VOLUME: VolumeOf = Quantity::new(
    "standard_volume",
    "50 ft3",
    "Indoor volume asked for each 1,000 Btu/h by the standard method.",
    "IFGC 304.5.1",
)
.within("1 ft3", "1,000 ft3");
/// The bar of the standard method.
pub const STANDARD_BAR: RateOf = Quantity::new(
    "standard_method_least_infiltration",
    "0.40 ACH",
    "The standard method may not be used where the infiltration is known to be less.",
    "IFGC 304.5.1; NREL weatherization specification 5.0502.1a",
);
/// Air asked for by appliances other than fan-assisted.
pub const INFILTRATION_OTHER: FlowOf = Quantity::new(
    "infiltration_flow_other",
    "21 ft3/h",
    "Air asked for each 1,000 Btu/h of appliances other than fan-assisted by the known infiltration method.",
    "IFGC 304.5.2",
);
/// Air asked for by fan-assisted appliances.
pub const INFILTRATION_FAN: FlowOf = Quantity::new(
    "infiltration_flow_fan_assisted",
    "15 ft3/h",
    "Air asked for each 1,000 Btu/h of fan-assisted appliances by the known infiltration method.",
    "IFGC 304.5.2",
);
/// The cap of the known infiltration method.
pub const INFILTRATION_CAP: RateOf =
    Quantity::new("infiltration_cap", "0.60 ACH", "A higher known infiltration counts as this one.", "IFGC 304.5.2");
/// The floor of the known infiltration method.
pub const INFILTRATION_FLOOR: RateOf = Quantity::new(
    "infiltration_floor",
    "0 ACH",
    "The known infiltration method is not accepted below this rate; 0 for no floor. Manuals that print the method stop at 0.10.",
    "no figure in IFGC 304.5.2; furnace installation manuals printing the NFPA 54 table: 0.10",
);
/// Whether a blower-door result alone makes the infiltration known.
pub const BLOWER_DOOR_COUNTS: Flag = Flag::new(
    "blower_door_counts",
    true,
    "Whether a blower-door result, divided by the divisor, makes the infiltration known.",
    "common practice of plan review, from memory; not in the fuel gas code",
);
/// The divisor of a blower-door result.
pub const BLOWER_DOOR_DIVISOR: Number = Number::new(
    "blower_door_divisor",
    20.0,
    "Air changes at 50 Pa divided by this give the natural rate.",
    "common practice: from memory, about 14 to 26 by climate, height and exposure; not in the fuel gas code",
)
.within(5.0, 40.0);
/// Whether the infiltration must be known.
pub const INFILTRATION_REQUIRED: Flag = Flag::new(
    "infiltration_must_be_known",
    false,
    "Whether an unknown infiltration bars the standard method, as where a blower-door test is mandatory.",
    "IFGC 304.5.1 allows the standard method where the infiltration is unknown",
);
/// Openings on one story.
pub const SAME_STORY: PowerOf = Quantity::new(
    "same_story_input_per_square_inch",
    "1,000 Btu/h",
    "Input that one square inch of each of the two openings between rooms of one story serves.",
    "IFGC 304.5.3.1",
)
.within("100 Btu/h", "100,000 Btu/h");
/// The floor of openings on one story.
pub const SAME_STORY_FLOOR: AreaOf = Quantity::new(
    "same_story_least_area",
    "100 in2",
    "Least free area of each of the two openings between rooms of one story.",
    "IFGC 304.5.3.1",
);
/// Openings between stories.
pub const BETWEEN_STORIES: PowerOf = Quantity::new(
    "between_stories_input_per_square_inch",
    "500 Btu/h",
    "Input that one square inch of all openings between stories together serves.",
    "IFGC 304.5.3.2",
)
.within("50 Btu/h", "100,000 Btu/h");
/// Position of openings.
pub const FROM_END: LengthOf = Quantity::new(
    "opening_from_end",
    "12 in",
    "How far from the top or bottom of the enclosure an opening may commence. Some older appliance manuals say 6 in.",
    "IFGC 304.5.3.1, 304.6.1, 304.6.2",
);
/// Least dimension of openings.
pub const LEAST_DIMENSION: LengthOf =
    Quantity::new("opening_least_dimension", "3 in", "Least dimension of an opening.", "IFGC 304.5.3.1, 304.6");
/// Direct outdoor openings.
pub const DIRECT: PowerOf = Quantity::new(
    "direct_input_per_square_inch",
    "4,000 Btu/h",
    "Input that one square inch of each of two direct outdoor openings serves.",
    "IFGC 304.6.1",
)
.within("100 Btu/h", "100,000 Btu/h");
/// Openings through vertical ducts.
pub const VERTICAL: PowerOf = Quantity::new(
    "vertical_duct_input_per_square_inch",
    "4,000 Btu/h",
    "Input that one square inch of each of two openings through vertical ducts serves.",
    "IFGC 304.6.1",
)
.within("100 Btu/h", "100,000 Btu/h");
/// Openings through horizontal ducts.
pub const HORIZONTAL: PowerOf = Quantity::new(
    "horizontal_duct_input_per_square_inch",
    "2,000 Btu/h",
    "Input that one square inch of each of two openings through horizontal ducts serves.",
    "IFGC 304.6.1",
)
.within("100 Btu/h", "100,000 Btu/h");
/// One outdoor opening.
pub const ONE_OPENING: PowerOf = Quantity::new(
    "one_opening_input_per_square_inch",
    "3,000 Btu/h",
    "Input that one square inch of a single outdoor opening serves.",
    "IFGC 304.6.2",
)
.within("100 Btu/h", "100,000 Btu/h");
/// Clearance beside appliances under the one-opening method.
pub const SIDE_CLEARANCE: LengthOf = Quantity::new(
    "one_opening_side_and_back_clearance",
    "1 in",
    "Clearance at the sides and back of each appliance that the one-opening method asks for.",
    "IFGC 304.6.2",
);
/// Clearance in front of appliances under the one-opening method.
pub const FRONT_CLEARANCE: LengthOf = Quantity::new(
    "one_opening_front_clearance",
    "6 in",
    "Clearance in front of each appliance that the one-opening method asks for.",
    "IFGC 304.6.2",
);
/// Whether the connector floor is reduced in the combination method.
pub const KEEP_CONNECTOR_FLOOR: Flag = Flag::new(
    "combination_keeps_connector_floor",
    false,
    "Whether the combination method leaves the area of the vent connectors as an unreduced floor under a single opening.",
    "IFGC 304.7 read literally reduces the full size; keeping the floor is the careful reading",
);
/// What a duct is held against.
pub const DUCT_MATCH: Choice = Choice::new(
    "duct_area_not_less_than",
    "area-required",
    &["area-required", "free-area-of-opening"],
    "What the cross-section of a combustion-air duct must equal: the area asked of its opening, or the opening's own free area.",
    "IFGC 304.11, two readings in use",
);
/// Mechanical supply.
pub const MECHANICAL: FlowOf = Quantity::new(
    "mechanical_flow",
    "0.35 cfm",
    "Outdoor air a fan must supply for each 1,000 Btu/h.",
    "IFGC 304.9; NFPA 54 9.3.6 as furnace manuals print it",
);
/// Free part of wood louvers.
pub const WOOD_LOUVER: RatioOf = Quantity::new(
    "wood_louver_free_area",
    "25 %",
    "Free part of a wood louver or grille whose free area is not known. Older manuals print 20 %.",
    "IFGC 304.10",
)
.within("1 %", "100 %");
/// Free part of metal louvers.
pub const METAL_LOUVER: RatioOf = Quantity::new(
    "metal_louver_free_area",
    "75 %",
    "Free part of a metal louver or grille whose free area is not known. Older manuals print 60 %.",
    "IFGC 304.10",
)
.within("1 %", "100 %");
/// Free vent area of an attic or crawl space used as the source.
pub const SOURCE_VENTS: PowerOf = Quantity::new(
    "source_vents_input_per_square_inch",
    "4,000 Btu/h",
    "Input that one square inch of the own vents of an attic or crawl space serves where that space is the source of air.",
    "a furnace maker's installation manual; the code has no figure",
)
.within("100 Btu/h", "1,000,000 Btu/h");
/// Whether cooking appliances count.
pub const COUNT_COOKING: Flag = Flag::new(
    "count_cooking_appliances",
    true,
    "Whether gas cooking appliances in the space count toward combustion air.",
    "IFGC 304.1 read literally; utility guides and some states leave them out",
);
/// Whether dryers count.
pub const COUNT_DRYERS: Flag = Flag::new(
    "count_clothes_dryers",
    true,
    "Whether gas clothes dryers without make-up air of their own count toward combustion air.",
    "IFGC 304.1 read literally; UMC 2009 701.1.1 exception 2 for those with make-up air",
);
/// Whether refrigerators count.
pub const COUNT_REFRIGERATORS: Flag = Flag::new(
    "count_refrigerators",
    true,
    "Whether gas refrigerators count toward combustion air.",
    "IFGC 304.1 read literally; a utility guide leaves them out",
);
/// Whether unvented heaters count.
pub const COUNT_UNVENTED: Flag = Flag::new(
    "count_unvented_heaters",
    true,
    "Whether unvented heaters count toward combustion air.",
    "IFGC 304.1 read literally",
);
/// Room-air appliances that are not Category I.
pub const NOT_CATEGORY_ONE: Choice = Choice::new(
    "room_air_not_category_one",
    "count",
    &["count", "ask"],
    "What to do with an appliance that takes room air and is not Category I when its instructions are not stated: count it, or ask.",
    "from memory of IFGC 304.1, which sends it to its instructions; those nearly always send it back",
);
/// Power burners.
pub const POWER_BURNERS: Choice = Choice::new(
    "power_burners",
    "ask",
    &["count", "ask"],
    "What to do with a power burner when its instructions are not stated: count it, or ask.",
    "from memory of IFGC 304.1",
);

/// Spread of the divisor.
pub const LEAST_DIVISOR: Number = Number::new(
    "blower_door_divisor_least",
    10.0,
    "A natural rate above the tested one divided by this is doubted.",
    "common practice: from memory, divisors lie between about 14 and 26",
)
.within(1.0, 30.0)
.figure();

/// Every parameter of the supply rule.
pub const ALL: &[&dyn Parameter] = &[
    &METHODS,
    &STANDARD_VOLUME,
    &STANDARD_BAR,
    &INFILTRATION_OTHER,
    &INFILTRATION_FAN,
    &INFILTRATION_CAP,
    &INFILTRATION_FLOOR,
    &BLOWER_DOOR_COUNTS,
    &BLOWER_DOOR_DIVISOR,
    &LEAST_DIVISOR,
    &INFILTRATION_REQUIRED,
    &SAME_STORY,
    &SAME_STORY_FLOOR,
    &BETWEEN_STORIES,
    &FROM_END,
    &LEAST_DIMENSION,
    &DIRECT,
    &VERTICAL,
    &HORIZONTAL,
    &ONE_OPENING,
    &SIDE_CLEARANCE,
    &FRONT_CLEARANCE,
    &KEEP_CONNECTOR_FLOOR,
    &DUCT_MATCH,
    &MECHANICAL,
    &WOOD_LOUVER,
    &METAL_LOUVER,
    &SOURCE_VENTS,
    &COUNT_COOKING,
    &COUNT_DRYERS,
    &COUNT_REFRIGERATORS,
    &COUNT_UNVENTED,
    &NOT_CATEGORY_ONE,
    &POWER_BURNERS,
];

/// The figures of one case.
pub struct Limits {
    /// The methods accepted.
    pub methods: Vec<&'static str>,
    /// The standard method.
    pub standard: air::StandardMethod,
    /// The known infiltration method.
    pub infiltration: air::KnownInfiltration,
    /// The divisor of a blower-door result, where one makes the infiltration known.
    pub blower_door: Option<Ratio>,
    /// A claimed natural rate above the tested one divided by this does not count.
    pub least_divisor: Ratio,
    /// Whether the infiltration must be known.
    pub infiltration_required: bool,
    /// Openings that join rooms.
    pub joining: air::JoiningLimits,
    /// Two outdoor openings.
    pub two: air::TwoOpenings,
    /// One outdoor opening.
    pub one: air::OneOpening,
    /// Whether the combination method keeps the connector floor.
    pub keep_connector_floor: bool,
    /// A fan.
    pub mechanical: air::Mechanical,
    /// Louvers of unknown free area.
    pub louvers: air::FreeFractions,
    /// Attics and crawl spaces as the source.
    pub source: air::AtticSource,
    /// Which appliances count.
    pub counting: air::CountingPolicy,
}

impl Limits {
    /// Reads the figures.
    pub fn of(inquiry: &Inquiry) -> Self {
        let opening = air::OpeningLimits { from_end: inquiry.value(&FROM_END), least_dimension: inquiry.value(&LEAST_DIMENSION) };
        let duct_match = match inquiry.value(&DUCT_MATCH) {
            "free-area-of-opening" => air::DuctMatch::FreeAreaOfOpening,
            _ => air::DuctMatch::AreaRequired,
        };
        let floor = inquiry.value(&INFILTRATION_FLOOR);
        Self {
            methods: inquiry.value(&METHODS),
            standard: air::StandardMethod {
                volume_per_input: per_thousand_volume(inquiry.value(&STANDARD_VOLUME)),
                least_air_changes: inquiry.value(&STANDARD_BAR),
            },
            infiltration: air::KnownInfiltration {
                other: per_thousand_flow(inquiry.value(&INFILTRATION_OTHER)),
                fan_assisted: per_thousand_flow(inquiry.value(&INFILTRATION_FAN)),
                greatest: inquiry.value(&INFILTRATION_CAP),
                least: (floor > Frequency::default()).then_some(floor),
            },
            blower_door: inquiry.value(&BLOWER_DOOR_COUNTS).then(|| units::fraction(inquiry.value(&BLOWER_DOOR_DIVISOR))),
            least_divisor: units::fraction(inquiry.value(&LEAST_DIVISOR)),
            infiltration_required: inquiry.value(&INFILTRATION_REQUIRED),
            joining: air::JoiningLimits {
                same_story: per_square_inch(inquiry.value(&SAME_STORY)),
                least_area: inquiry.value(&SAME_STORY_FLOOR),
                between_stories: per_square_inch(inquiry.value(&BETWEEN_STORIES)),
                opening,
                ..Default::default()
            },
            two: air::TwoOpenings {
                direct: per_square_inch(inquiry.value(&DIRECT)),
                vertical: per_square_inch(inquiry.value(&VERTICAL)),
                horizontal: per_square_inch(inquiry.value(&HORIZONTAL)),
                opening,
                duct_match,
            },
            one: one_opening(inquiry, opening, duct_match),
            keep_connector_floor: inquiry.value(&KEEP_CONNECTOR_FLOOR),
            mechanical: air::Mechanical { flow_per_input: per_thousand_flow(inquiry.value(&MECHANICAL)) },
            louvers: air::FreeFractions { wood: inquiry.value(&WOOD_LOUVER), metal: inquiry.value(&METAL_LOUVER) },
            source: air::AtticSource { vents_per_input: per_square_inch(inquiry.value(&SOURCE_VENTS)) },
            counting: counting(inquiry),
        }
    }

    /// Whether a method is accepted.
    pub fn accepts(&self, method: &str) -> bool {
        self.methods.contains(&method)
    }
}

fn one_opening(inquiry: &Inquiry, opening: air::OpeningLimits, duct_match: air::DuctMatch) -> air::OneOpening {
    let beside: Length = inquiry.value(&SIDE_CLEARANCE);
    air::OneOpening {
        per_input: per_square_inch(inquiry.value(&ONE_OPENING)),
        opening,
        side_clearance: beside,
        back_clearance: beside,
        front_clearance: inquiry.value(&FRONT_CLEARANCE),
        duct_match,
    }
}

fn counting(inquiry: &Inquiry) -> air::CountingPolicy {
    let unstated = |word| if word == "count" { air::UnstatedInstructions::Count } else { air::UnstatedInstructions::Ask };
    air::CountingPolicy {
        cooking: inquiry.value(&COUNT_COOKING),
        clothes_dryers: inquiry.value(&COUNT_DRYERS),
        refrigerators: inquiry.value(&COUNT_REFRIGERATORS),
        unvented: inquiry.value(&COUNT_UNVENTED),
        not_category_one: unstated(inquiry.value(&NOT_CATEGORY_ONE)),
        power_burners: unstated(inquiry.value(&POWER_BURNERS)),
    }
}

fn thousand() -> Power {
    units::btu_per_hour(1000.0)
}

fn per_thousand_volume(volume: Volume) -> VolumePerInput {
    volume / thousand()
}

fn per_thousand_flow(flow: VolumeRate) -> FlowPerInput {
    flow / thousand()
}

fn per_square_inch(input: Power) -> InputPerArea {
    let square_inch: Area = units::square_inches(1.0);
    input / square_inch
}
