//! Valves in the water piping, and what equipment does with water.

use super::Point;
use crate::quantity::{
    Area, Concentration, Duration, Length, Mass, Power, Pressure, Ratio, Temperature, TemperatureDifference, Volume, VolumeFlow,
};

words! {
    /// What a valve in the water piping does.
    WaterValveKind {
        /// It shuts off the building.
        MainShutoff "main-shutoff",
        /// It shuts off one dwelling unit.
        UnitShutoff "unit-shutoff",
        /// It shuts off one piece of equipment.
        EquipmentShutoff "equipment-shutoff",
        /// It shuts off one fixture.
        FixtureShutoff "fixture-shutoff",
        /// It drains.
        Drain "drain",
        /// It holds the pressure down.
        PressureReducing "pressure-reducing",
        /// It lets water one way.
        Check "check",
        /// Two checks.
        DualCheck "dual-check",
        /// Two checks with a vent between them.
        DualCheckWithVent "dual-check-with-vent",
        /// Two checks that can be tested.
        DoubleCheck "double-check",
        /// A zone of reduced pressure between two checks.
        ReducedPressureZone "reduced-pressure-zone",
        /// A vacuum breaker.
        VacuumBreaker "vacuum-breaker",
        /// It mixes to a set temperature.
        Mixing "mixing",
        /// It takes the blow out of quick valves.
        WaterHammerArrester "water-hammer-arrester",
    }
}

record! {
    /// A valve, regulator or backflow preventer in the water piping.
    WaterValve("water-valve"): WaterValveKind {
        /// The pipe it is in.
        pipe: String => "water-pipe";
        /// The dwelling unit, equipment or fixture it serves or protects.
        serves: Vec<String> => ["dwelling-unit", "equipment", "fixture"];
        /// The space it is in.
        space: String => "space";
        /// Where it is, in plan.
        at: Point;
        /// Height above the floor.
        height: Length;
        /// The standard it is listed to.
        standard: String, like "ASSE 1013";
        /// Whether it opens to the full bore.
        full_open: bool;
        /// Whether one can get at it at once.
        accessible: bool;
        /// Whether the pipe behind it can be drained.
        drains: bool;
        /// Pressure it is set to.
        set_pressure: Pressure;
        /// Temperature it is set to.
        set_temperature: Temperature;
        /// Whether water can pass back through it when it warms up.
        bypass: bool;
        /// Whether it stands between a well's pump and the pressure tank.
        before_pressure_tank: bool;
        /// Where its relief port drains to.
        relief_drain: String => "drain";
        /// Pressure lost in it at the greatest flow.
        pressure_drop: Pressure;
    }
}

words! {
    /// What flows on the heating side of a coil that warms drinking water.
    CoilFluid {
        /// Drinking water.
        DrinkingWater "drinking-water",
        /// Boiler water with nothing added.
        PlainWater "plain-water",
        /// A fluid recognized as essentially nontoxic, such as food-grade propylene glycol.
        EssentiallyNontoxic "essentially-nontoxic",
        /// Anything else: ethylene glycol, treated boiler water, refrigerant.
        Toxic "toxic",
    }
}

record! {
    /// What a water heater does.
    WaterHeating {
        /// Water it stores.
        storage: Volume, like "50 gal";
        /// Heat it puts into water, after losses.
        output: Power;
        /// Temperature it is set to.
        set_temperature: Temperature, like "120 F";
        /// Flow at which it starts.
        activation_flow: VolumeFlow;
        /// Flow at the rise it is designed for.
        flow: VolumeFlow;
        /// Rise it is designed for.
        rise: TemperatureDifference;
        /// The boiler that heats it.
        boiler: String => "equipment";
        /// Whether its coil has two walls.
        double_wall: bool;
        /// What flows on the heating side of its coil.
        coil_fluid: CoilFluid;
        /// Whether a leak would do damage.
        leak_would_damage: bool;
        /// The expansion tank that serves it.
        expansion_tank: String => "equipment";
        /// Whether a full-open valve is in its cold supply.
        cold_shutoff: bool;
        /// Whether it has valves to flush it.
        isolation_valves: bool;
        /// Height of its lowest control above its underside.
        control_height: Length;
        /// Pressure lost in it at the design flow.
        pressure_drop: Pressure;
        /// Whether a control of its own shuts off the heat before the water is too hot, apart from the thermostat.
        limit_control: bool;
        /// Temperature at which that control shuts off the heat.
        limit_temperature: Temperature;
        /// Whether it can be drained through a valve of its own.
        drain_valve: bool;
        /// Whether its cold water enters at the bottom.
        bottom_fed: bool;
        /// Whether it also heats rooms.
        space_heating: bool;
        /// The hottest water the heating of rooms needs.
        space_heating_temperature: Temperature;
        /// Whether fittings keep unlike metals apart where its pipes begin.
        dielectric_fittings: bool;
        /// Hardest water its instructions allow.
        hardness_limit: Concentration;
        /// Coldest air against which its own frost protection holds, where it has one.
        frost_protection_to: Temperature;
        /// Free air its instructions ask for, around a heat pump.
        room_volume: Volume as descriptive;
    }
}

record! {
    /// A tank under pressure, or a cistern.
    Tank {
        /// Its volume.
        volume: Volume, like "44 gal";
        /// Air pressure in it before water comes.
        precharge: Pressure, like "38 psi";
        /// Greatest pressure it may hold.
        maximum_pressure: Pressure;
        /// Whether it holds drinking water.
        potable: bool;
    }
}

record! {
    /// What a softener or filter does.
    Treatment {
        /// Diameter of its tank.
        tank_diameter: Length as descriptive;
        /// Volume of its resin or medium.
        medium: Volume, like "1.5 ft³";
        /// Salt for one regeneration.
        salt: Mass;
        /// Hardness it takes out per regeneration.
        capacity: Mass, like "24,000 gr";
        /// Backwash flow.
        backwash: VolumeFlow, like "2.4 gpm";
        /// Time of the whole regeneration.
        regeneration: Duration;
        /// Whether it regenerates by the water used.
        by_demand: bool;
        /// Whether it carries a label that says so.
        demand_label: bool;
        /// Whether it is regenerated where it stands; `false` says that its tank is exchanged.
        regenerated_on_site: bool;
        /// Whether water used outdoors goes past it.
        bypasses_outdoor: bool as descriptive;
        /// Service flow.
        service_flow: VolumeFlow;
        /// Pressure lost at that flow.
        pressure_drop: Pressure;
        /// Least pressure it works at.
        minimum_pressure: Pressure;
        /// Greatest pressure it works at.
        maximum_pressure: Pressure;
        /// The standard it is listed to.
        standard: String, like "NSF/ANSI 44";
        /// Its brine tank.
        brine_tank: String as descriptive => "equipment";
        /// Height of the lid above the floor.
        lid_height: Length as descriptive;
        /// Height needed above the lid to fill it.
        fill_height: Length as descriptive;
        /// Area of a filter's face.
        filter_area: Area as descriptive;
    }
}

record! {
    /// What a pump does.
    Pump {
        /// Flow.
        flow: VolumeFlow, like "10 gpm";
        /// Pressure at that flow.
        pressure: Pressure;
        /// Greatest pressure it makes, at no flow.
        shutoff_pressure: Pressure;
        /// Power at its shaft.
        power: Power;
        /// Whether a drive keeps the pressure constant.
        constant_pressure: bool;
        /// Least time it should run once started.
        minimum_run: Duration;
        /// Share of the time it runs.
        duty: Ratio;
    }
}

words! {
    /// What a boiler makes.
    BoilerMedium {
        /// Hot water.
        HotWater "hot-water",
        /// Steam.
        Steam "steam",
    }
}

record! {
    /// A boiler and the system it heats.
    Boiler {
        /// What it makes.
        medium: BoilerMedium;
        /// Greatest pressure it may work at, from its plate.
        maximum_pressure: Pressure, like "30 psi";
        /// Whether a low-water cutoff, or a flow sensor that does the same, stops the burner.
        low_water_cutoff: bool;
        /// Whether it has a gauge for pressure.
        pressure_gauge: bool;
        /// Whether it has a gauge for temperature.
        temperature_gauge: bool;
        /// Whether a stop valve is in its supply and another in its return.
        stop_valves: bool;
        /// Water in the whole system.
        system_volume: Volume;
        /// Water's mean temperature while it heats.
        mean_temperature: Temperature, like "160 F";
        /// The expansion tank of its system.
        expansion_tank: String => "equipment";
        /// Whether its system has no expansion tank.
        without_expansion_tank: bool;
        /// Whether chemicals or antifreeze are added to its water.
        additives: bool;
        /// Whether it is filled from drinking water through a pipe that stays joined.
        filled_from_drinking_water: bool;
    }
}
