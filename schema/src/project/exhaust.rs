//! Whatever draws air out of the house: fans, hoods, dryers, fireplaces, stoves.

use super::{Beyond, Fuel};
use crate::quantity::{Area, VolumeFlow};

words! {
    /// What draws the air.
    ExhaustKind {
        /// A bath fan.
        BathFan "bath-fan",
        /// A kitchen hood.
        KitchenHood "kitchen-hood",
        /// A kitchen exhaust that draws downwards.
        Downdraft "downdraft",
        /// A clothes dryer.
        ClothesDryer "clothes-dryer",
        /// A fan that runs for the whole house.
        WholeHouseFan "whole-house-fan",
        /// A fan in an attic.
        AtticVentilator "attic-ventilator",
        /// A fan in a crawl space.
        CrawlSpaceFan "crawl-space-fan",
        /// A central vacuum cleaner that blows outdoors.
        CentralVacuum "central-vacuum",
        /// A dust collector or another fan of a workshop.
        WorkshopExhaust "workshop-exhaust",
        /// A radon fan.
        RadonFan "radon-fan",
        /// A ventilator that blows in as much as it blows out.
        BalancedVentilator "balanced-ventilator",
        /// A fan of a room with stored energy.
        BatteryVentilation "battery-ventilation",
        /// A fireplace that burns solid fuel.
        Fireplace "fireplace",
        /// A stove that burns solid fuel.
        Stove "stove",
        /// Another fan that blows outdoors.
        Fan "fan",
    }
}

words! {
    /// How make-up air comes in.
    MakeUpKind {
        /// Through an opening that is always open.
        PermanentOpening "permanent-opening",
        /// Through a damper that opens with the exhaust.
        AutomaticDamper "automatic-damper",
        /// By a fan.
        Fan "fan",
        /// It does not: nothing is provided.
        None "none",
    }
}

record! {
    /// Air in place of what is drawn out.
    MakeUpAir: MakeUpKind {
        /// How much.
        flow: VolumeFlow;
        /// Free area of the opening.
        free_area: Area, like "100 in²";
        /// The opening.
        opening: String => "opening";
        /// The duct.
        duct: String => "duct";
        /// Whether it starts and stops with the exhaust.
        interlocked: bool;
        /// Whether one can get at its damper.
        accessible: bool;
    }
}

record! {
    /// Something that draws air out of a space.
    Exhaust("exhaust"): ExhaustKind {
        /// The space it draws from.
        space: String => "space";
        /// The equipment that draws.
        equipment: String => "equipment";
        /// Air it draws.
        flow: VolumeFlow;
        /// Where the air goes.
        terminates: Beyond;
        /// Air in place of what is drawn out.
        make_up: MakeUpAir;
        /// Whether it can run while burners fire.
        runs_with_burners: bool;
        /// The fuel of a fireplace or stove.
        fuel: Fuel;
        /// Whether the fire draws its air from outdoors through a passage of its own.
        outdoor_air: bool;
        /// Area of that passage.
        outdoor_air_area: Area;
        /// Whether the fire has doors that close tightly.
        tight_doors: bool;
    }
}
