//! Raceways, what runs in them, and the boxes they enter.

use super::{ConductorMaterial, Point};
use crate::quantity::{Angle, Length, Ratio, Temperature, Voltage, Volume};

words! {
    /// What a raceway is.
    RacewayKind {
        /// Electrical metallic tubing.
        ElectricalMetallicTubing "electrical-metallic-tubing",
        /// Intermediate metal conduit.
        IntermediateMetalConduit "intermediate-metal-conduit",
        /// Rigid metal conduit.
        RigidMetalConduit "rigid-metal-conduit",
        /// Rigid PVC conduit, Schedule 40.
        Pvc40 "pvc-schedule-40",
        /// Rigid PVC conduit, Schedule 80.
        Pvc80 "pvc-schedule-80",
        /// Electrical nonmetallic tubing.
        ElectricalNonmetallicTubing "electrical-nonmetallic-tubing",
        /// Flexible metal conduit.
        FlexibleMetalConduit "flexible-metal-conduit",
        /// Liquidtight flexible metal conduit.
        LiquidtightFlexibleMetal "liquidtight-flexible-metal",
        /// Liquidtight flexible nonmetallic conduit.
        LiquidtightFlexibleNonmetallic "liquidtight-flexible-nonmetallic",
        /// Metal-clad cable, which is no raceway but runs like one.
        MetalCladCable "metal-clad-cable",
        /// A sleeve.
        Sleeve "sleeve",
    }
}

words! {
    /// What the conductors in a raceway belong to.
    Wiring {
        /// Power and light.
        Power "power",
        /// The dc side of a solar array.
        SolarDc "solar-dc",
        /// The dc side of stored energy.
        StorageDc "storage-dc",
        /// Control.
        Control "control",
        /// Communication.
        Communication "communication",
    }
}

words! {
    /// What a conductor does.
    ConductorRole {
        /// Ungrounded.
        Ungrounded "ungrounded",
        /// Neutral.
        Neutral "neutral",
        /// Equipment grounding.
        EquipmentGrounding "equipment-grounding",
        /// Bonding.
        Bonding "bonding",
        /// A pull string or a spare.
        Spare "spare",
    }
}

record! {
    /// Conductors of one sort in a raceway.
    RacewayConductor {
        /// Size of each.
        size: String, like "10 AWG";
        /// Insulation; `bare` where there is none.
        insulation: String, like "THWN-2";
        /// What they are made of.
        material: ConductorMaterial;
        /// How many.
        count: u32;
        /// Outside diameter, for cables and what the code's tables do not list.
        outside_diameter: Length;
        /// What they do.
        role: ConductorRole;
        /// What they belong to.
        wiring: Wiring;
        /// Whether they count as carrying current.
        current_carrying: bool;
        /// Voltage.
        voltage: Voltage;
        /// Their circuit.
        circuit: String => "circuit";
    }
}

record! {
    /// A bend, offset, kick or saddle.
    Bend {
        /// How far it turns.
        angle: Angle, like "90 deg";
        /// How many alike; 1 unless said.
        count: u32;
        /// Radius of its centre line.
        radius: Length;
    }
}

words! {
    /// Where a run ends and conductors can be pulled.
    PullPoint {
        /// A box.
        Box "box",
        /// A conduit body.
        ConduitBody "conduit-body",
        /// A panel, disconnect or other enclosure.
        Enclosure "enclosure",
        /// An open end.
        OpenEnd "open-end",
    }
}

record! {
    /// A run between two pull points.
    RacewayRun {
        /// Its length.
        length: Length;
        /// Its bends.
        bends: Vec<Bend>;
        /// What it ends in.
        ends_in: PullPoint;
        /// The box it ends in.
        pull_box: String as descriptive => "pull-box";
        /// The spaces it goes through.
        spaces: Vec<String> => "space";
        /// The line it follows in plan.
        line: Vec<Point>;
        /// Temperature around it.
        ambient: Temperature;
        /// Lowest temperature around it in a year.
        lowest_ambient: Temperature;
        /// Whether fittings or bends let it grow and shrink with the temperature.
        expansion_fitting: bool;
        /// Whether the sun shines on it.
        in_sunlight: bool;
        /// Height above the roof it runs over.
        above_roof: Length;
        /// Greatest distance between supports.
        support_spacing: Length;
        /// Distance of the first support from the box.
        first_support: Length;
        /// Distance from the nearest edge of the framing it goes through.
        edge_distance: Length;
        /// Whether steel plates shield it there.
        shielded: bool;
    }
}

words! {
    /// Where a raceway is meant to lead.
    RacewayGoal {
        /// The roof.
        Roof "roof",
        /// An attic.
        Attic "attic",
        /// A crawl space.
        CrawlSpace "crawl-space",
        /// The open air beside the house.
        Outdoors "outdoors",
        /// A garage.
        Garage "garage",
        /// Another panel.
        Panel "panel",
    }
}

record! {
    /// An end of a raceway.
    RacewayEnd {
        /// The equipment, panel or box it ends at.
        at: String => ["equipment", "pull-box", "panel"];
        /// The space it ends in.
        space: String => "space";
        /// Whether it ends on the roof.
        on_roof: bool;
        /// Whether it ends outdoors.
        outdoors: bool;
        /// Whether it is sealed against air and water.
        sealed: bool;
        /// Whether it is capped.
        capped: bool;
        /// Whether it has an insulated bushing.
        bushing: bool;
        /// Whether one can get at it.
        accessible: bool;
    }
}

record! {
    /// A raceway.
    Raceway("raceway"): RacewayKind {
        /// Trade size.
        trade_size: Length, like "1 in";
        /// What it is for.
        intended_use: String as descriptive;
        /// Where it is meant to lead, from its `from` end.
        meant_to_reach: RacewayGoal;
        /// Whether it is empty, for later.
        spare: bool;
        /// Share of its allowed fill that is to stay free.
        reserve: Ratio;
        /// One end.
        from: RacewayEnd;
        /// The other end.
        to: RacewayEnd;
        /// Its runs, from one end to the other.
        runs: Vec<RacewayRun>;
        /// What runs in it; an empty list says that nothing does.
        conductors: Vec<RacewayConductor>;
        /// Whether these are all the conductors in it: none is left out of the list.
        conductors_complete: bool;
        /// Whether pipes or ducts hang from it.
        supports_other_things: bool;
        /// Greatest distance between its labels.
        label_spacing: Length;
        /// Whether a pull string lies in it.
        pull_string: bool as descriptive;
    }
}

words! {
    /// How conductors go through a box.
    PullKind {
        /// Straight through.
        Straight "straight",
        /// Around a corner.
        Angle "angle",
        /// In and out of one wall.
        U "u",
        /// They are spliced.
        Splice "splice",
    }
}

words! {
    /// A wall of a box.
    BoxWall {
        /// The top.
        Top "top",
        /// The bottom.
        Bottom "bottom",
        /// The left.
        Left "left",
        /// The right.
        Right "right",
        /// The back.
        Back "back",
    }
}

record! {
    /// A raceway that enters a box.
    BoxEntry {
        /// The raceway.
        raceway: String => "raceway";
        /// The wall it enters by.
        wall: BoxWall;
        /// The row, counted from the cover.
        row: u32;
        /// Trade size, where the raceway is not described.
        trade_size: Length;
        /// The raceway that the same conductors leave by.
        partner: String => "raceway";
        /// Distance to the raceway that the same conductors leave by.
        to_partner: Length;
    }
}

record! {
    /// Conductors of one size in a box.
    BoxConductors {
        /// Size of each.
        size: String, like "12 AWG";
        /// How many.
        count: u32;
    }
}

record! {
    /// A pull box or junction box.
    PullBox("pull-box"): PullKind {
        /// The equipment that is the box, where its place matters.
        equipment: String => "equipment";
        /// The space it is in.
        space: String => "space";
        /// Width.
        width: Length;
        /// Height.
        height: Length;
        /// Depth.
        depth: Length;
        /// Its volume, with extensions and raised covers, as marked.
        volume: Volume, like "30.3 in³";
        /// Insulated conductors that come from outside and end, are spliced or pass through in it.
        conductors: Vec<BoxConductors>;
        /// Equipment grounding and bonding conductors in it.
        grounding: Vec<BoxConductors>;
        /// Switches, receptacles and other devices on a yoke, each by the size of the conductors to it.
        devices: Vec<BoxConductors>;
        /// Whether clamps for cables are inside it.
        internal_clamps: bool;
        /// The raceways that enter it.
        entries: Vec<BoxEntry>;
        /// Whether one can get at it.
        accessible: bool;
    }
}
