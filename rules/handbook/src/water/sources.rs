//! Where the figures of water supply and water heating come from.

use crate::Source;

/// Supply units of bathtub, dishwasher, full-bath group, kitchen sink, laundry tub and lavatory.
pub const SUPPLY_UNITS: Source = Source::new("2018 IPC table E103.3(2); 2018 IRC table P2903.6");
/// Supply units of the other outlets.
pub const SUPPLY_UNITS_REMEMBERED: Source = Source::new("from memory of 2018 IRC table P2903.6");
/// Supply units of the other code family.
pub const UNIFORM_UNITS: Source = Source::new("from memory of UPC table 610.3, private use");
/// Flow by supply units, systems with flush tanks.
pub const DEMAND: Source = Source::new("from memory of 2018 IRC table P2903.6(1) and IPC table E103.3(3)");
/// A second curve, far lower at small loads.
pub const STANDARD_DEMAND: Source = Source::new("NSPC table B.5.4, flush tanks");
/// Meter, service and distribution sizes by pressure and length.
pub const METER_TABLE: Source =
    Source::new("from memory of 2018 IRC table P2903.7 and IPC table E201.1: hold against a licensed copy before relying on it");
/// The same of the other code family.
pub const UNIFORM_METER_TABLE: Source = Source::new("UPC table 610.4, as an engineering handbook prints it");
/// Capacity of manifold mains.
pub const MANIFOLD: Source =
    Source::new("from memory of 2018 IRC P2903.8.1; follows from 12 ft/s in plastic and 8 ft/s in metal");
/// Velocity limits.
pub const VELOCITY: Source = Source::new("NSPC 10.14.1 and a maker's copper guidance: 8 ft/s cold, 5 ft/s hot");
/// Friction by Hazen and Williams.
pub const HAZEN_WILLIAMS: Source = Source::new("common practice: Hazen-Williams with C 150 plastic, 140 copper, 120 steel");
/// Friction by Darcy and Weisbach.
pub const DARCY: Source = Source::new("common practice: Darcy-Weisbach with Colebrook, water at 60 F");
/// Pressure of a column of water.
pub const ELEVATION: Source = Source::new("2018 IPC E103.2.2: 0.433 psi per foot");
/// Inside and outside diameters of tube.
pub const TUBE: Source = Source::new("from memory of ASTM B88, F876, D2846, D1785 and D2239");
/// Water delivered between cut-in and cut-out.
pub const DRAWDOWN: Source = Source::new("The Driller (2006), how to calculate and control pressure tank drawdown: Boyle's law");
/// How long a pump should run.
pub const PUMP_RUN: Source = Source::new("from memory of pump makers: 1 min up to 1-1/2 hp, more above");
/// Expansion tank by Boyle's law.
pub const EXPANSION: Source =
    Source::new("R. Griffith, thermal expansion tanks part 2: Boyle's law from precharge, line and 90 % of relief");
/// Expansion tank of a heating system.
pub const BOILER_EXPANSION: Source =
    Source::new("from memory of 2021 IRC table M2003.2 and the equation below it, for tanks with a diaphragm");
/// Density of water.
pub const DENSITY: Source =
    Source::new("from memory of G. S. Kell, J. Chem. Eng. Data 20 (1975) 97; within 0.002 % of CoolProp 8.0.0");
/// Atmosphere by elevation.
pub const ATMOSPHERE: Source = Source::new("U.S. Standard Atmosphere (1976), troposphere");
/// Heat to warm a flow.
pub const DUTY: Source = Source::new("common practice: Btu/h = 500 x gpm x F");
/// Softening.
pub const SOFTENING: Source = Source::new("common practice: 75 gal a person a day, 4 grains for each ppm of iron");
/// Exchange capacity by salt.
pub const EXCHANGE: Source = Source::new("Water Systems Council figures and a resin maker's, per cubic foot of resin by salt");
/// Holes and notches in studs and joists.
pub const FRAMING: Source = Source::new("IRC R602.6 and R502.8, as printed in a framing guide");
/// Support of pipe.
pub const SUPPORT: Source = Source::new("from memory of 2018 IRC table P2605.1");
/// Flow and pressure an outlet needs.
pub const OUTLETS: Source = Source::new("2018 IPC table 604.3; 2018 IRC table P2903.1");
