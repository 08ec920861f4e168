//! Panels and what transfers a building from one source to another.

use super::ConductorSet;
use crate::quantity::{Current, Length, Voltage};

words! {
    /// What a conductor is made of.
    ConductorMaterial {
        /// Copper.
        Copper "copper",
        /// Aluminum.
        Aluminum "aluminum",
        /// Copper-clad aluminum.
        CopperCladAluminum "copper-clad-aluminum",
    }
}

words! {
    /// Where a panel's bus is fed.
    FeedPosition {
        /// At the top.
        Top "top",
        /// At the bottom.
        Bottom "bottom",
        /// In the middle.
        Center "center",
        /// Through lugs at the far end of another panel.
        FeedThrough "feed-through",
    }
}

words! {
    /// What a breaker in a panel does.
    CircuitRole {
        /// It feeds a load.
        Load "load",
        /// A source feeds the bus through it.
        Source "source",
        /// It feeds another panel.
        Feeder "feeder",
        /// It is there for later.
        Spare "spare",
        /// The space is reserved and empty.
        Reserved "reserved",
    }
}

record! {
    /// A circuit of a panel.
    Circuit("circuit") {
        /// What its directory says.
        name: String;
        /// What its breaker does.
        role: CircuitRole;
        /// Rating of its breaker.
        overcurrent: Current, like "20 A";
        /// How many poles its breaker has.
        poles: u32;
        /// The spaces it takes, numbered from the top.
        slots: Vec<u32>;
        /// Voltage.
        voltage: Voltage;
        /// Its conductors.
        conductors: ConductorSet;
        /// What it feeds.
        serves: Vec<String> => ["equipment", "panel", "receptacle", "luminaire", "inverter"];
        /// Whether it feeds nothing else.
        individual: bool;
        /// Whether it is protected against ground faults.
        gfci: bool;
        /// Whether it is protected against arc faults.
        afci: bool;
        /// Whether the rating of its breaker is marked not to be moved.
        marked: bool;
    }
}

record! {
    /// A panel.
    Panel("panel") {
        /// The equipment that is the panel.
        equipment: String => "equipment";
        /// Where it is fed from.
        fed_from: String => ["service", "panel", "transfer", "inverter"];
        /// Whether it holds the service disconnect.
        service_equipment: bool;
        /// Whether it is fed from the standby source.
        standby: bool;
        /// Rating of its bus.
        bus_rating: Current, like "225 A";
        /// Rating of the overcurrent device that protects the bus.
        main: Current, like "200 A";
        /// Where its bus is fed.
        feed_position: FeedPosition;
        /// How many full-size spaces it has.
        spaces: u32;
        /// Its circuits.
        circuits: Vec<Circuit>;
        /// Whether these are all its circuits: no breaker is left out of the list.
        circuits_complete: bool;
        /// The least fault current its breakers are rated to interrupt.
        interrupting_rating: Current, like "10 kA";
        /// Whether its directory is filled in.
        directory: bool;
        /// Height of its highest handle above the floor.
        highest_handle: Length;
        /// How far its door opens.
        door_opens: crate::quantity::Angle, like "90 deg";
        /// Greatest voltage to ground.
        voltage_to_ground: Voltage, like "120 V";
    }
}

words! {
    /// What changes the building from one source to another.
    TransferKind {
        /// It does so by itself.
        Automatic "automatic",
        /// A person does so.
        Manual "manual",
        /// An interlock between two breakers.
        Interlock "interlock",
        /// It parts the building from the utility and lets it run as an island.
        MicrogridInterconnect "microgrid-interconnect",
    }
}

words! {
    /// How load is kept below what the source can carry.
    LoadManagementKind {
        /// By shedding circuits.
        Shedding "shedding",
        /// By a power control system with a set point.
        PowerControl "power-control",
        /// Not at all.
        None "none",
    }
}

record! {
    /// Load management.
    LoadManagement: LoadManagementKind {
        /// Its set point.
        set_point: Current;
        /// The loads it sheds.
        sheds: Vec<String> => "load";
        /// Whether it is listed.
        listed: bool;
    }
}

record! {
    /// Transfer equipment.
    Transfer("transfer"): TransferKind {
        /// The equipment that is the transfer switch.
        equipment: String => "equipment";
        /// Rating.
        rating: Current;
        /// The overcurrent device before it.
        overcurrent_ahead: Current;
        /// The source it takes normally.
        normal: String => ["service", "panel", "feeder"];
        /// The source it takes otherwise.
        alternate: String => ["generator", "inverter", "storage-system"];
        /// The panel it feeds.
        feeds: String => "panel";
        /// Whether it switches the neutral.
        switches_neutral: bool;
        /// Whether it opens every ungrounded conductor to the utility by itself when that fails.
        opens_by_itself: bool;
        /// Whether it is listed, for the panel where it is an interlock.
        listed: bool;
        /// Whether it may serve as service equipment.
        service_rated: bool;
        /// Load management.
        load_management: LoadManagement;
    }
}
