//! The kinds of equipment.

words! {
    /// What a piece of equipment is.
    EquipmentKind {
        /// A furnace.
        Furnace "furnace",
        /// An air handler.
        AirHandler "air-handler",
        /// A boiler.
        Boiler "boiler",
        /// A heat pump.
        HeatPump "heat-pump",
        /// An air conditioner, or its outdoor unit.
        AirConditioner "air-conditioner",
        /// A unit heater.
        UnitHeater "unit-heater",
        /// A room heater.
        RoomHeater "room-heater",
        /// A wall furnace.
        WallFurnace "wall-furnace",
        /// A fireplace or decorative appliance that burns gas.
        GasFireplace "gas-fireplace",
        /// A water heater with a tank.
        StorageWaterHeater "storage-water-heater",
        /// A water heater without a tank.
        TanklessWaterHeater "tankless-water-heater",
        /// A water heater with a heat pump.
        HeatPumpWaterHeater "heat-pump-water-heater",
        /// A tank heated by a boiler.
        IndirectWaterHeater "indirect-water-heater",
        /// A pool or spa heater.
        PoolHeater "pool-heater",
        /// A range, cooktop or oven.
        Range "range",
        /// A clothes dryer.
        ClothesDryer "clothes-dryer",
        /// A clothes washer.
        ClothesWasher "clothes-washer",
        /// A dishwasher.
        Dishwasher "dishwasher",
        /// A refrigerator or freezer.
        Refrigerator "refrigerator",
        /// A grill.
        Grill "grill",
        /// A stove or boiler that burns wood, pellets or coal.
        SolidFuelHeater "solid-fuel-heater",
        /// A heater that burns oil.
        OilHeater "oil-heater",
        /// A softener.
        WaterSoftener "water-softener",
        /// A brine tank.
        BrineTank "brine-tank",
        /// A filter that takes iron out.
        IronFilter "iron-filter",
        /// A filter that takes sediment out.
        SedimentFilter "sediment-filter",
        /// A carbon filter.
        CarbonFilter "carbon-filter",
        /// A filter that raises the pH.
        AcidNeutralizer "acid-neutralizer",
        /// Disinfection by ultraviolet light.
        UltravioletDisinfection "ultraviolet-disinfection",
        /// Reverse osmosis.
        ReverseOsmosis "reverse-osmosis",
        /// A pressure tank.
        PressureTank "pressure-tank",
        /// An expansion tank.
        ExpansionTank "expansion-tank",
        /// A buffer tank.
        BufferTank "buffer-tank",
        /// A cistern.
        Cistern "cistern",
        /// The controller of a well pump.
        WellController "well-controller",
        /// A pump.
        Pump "pump",
        /// A circulator.
        Circulator "circulator",
        /// A panelboard.
        Panel "panel",
        /// A meter and its enclosure.
        ElectricMeter "electric-meter",
        /// A disconnect.
        Disconnect "disconnect",
        /// A transfer switch.
        TransferSwitch "transfer-switch",
        /// A device that parts the building from the utility and runs it as an island.
        MicrogridInterconnect "microgrid-interconnect",
        /// An inverter.
        Inverter "inverter",
        /// A battery, or a cabinet of them.
        Battery "battery",
        /// A charge controller.
        ChargeController "charge-controller",
        /// A generator.
        Generator "generator",
        /// A generator inlet.
        GeneratorInlet "generator-inlet",
        /// A solar array.
        SolarArray "solar-array",
        /// A charger for electric vehicles.
        VehicleCharger "vehicle-charger",
        /// A pull box or junction box.
        PullBox "pull-box",
        /// A gas meter.
        GasMeter "gas-meter",
        /// A gas manifold.
        GasManifold "gas-manifold",
        /// A gas regulator.
        GasRegulator "gas-regulator",
        /// A container for liquefied gas.
        GasContainer "gas-container",
        /// A floor drain.
        FloorDrain "floor-drain",
        /// A sump.
        Sump "sump",
        /// A sink or laundry tub.
        Sink "sink",
        /// A ventilator that recovers heat.
        HeatRecoveryVentilator "heat-recovery-ventilator",
        /// A ventilator that recovers heat and moisture.
        EnergyRecoveryVentilator "energy-recovery-ventilator",
        /// A fan that exhausts.
        ExhaustFan "exhaust-fan",
        /// A fan that supplies air to burn.
        CombustionAirFan "combustion-air-fan",
        /// A dehumidifier.
        Dehumidifier "dehumidifier",
        /// A humidifier.
        Humidifier "humidifier",
        /// A machine of a workshop.
        Machine "machine",
        /// A workbench, shelf, cabinet or other fixed thing that is in the way.
        FixedObject "fixed-object",
        /// Something else.
        Other "other",
    }
}
