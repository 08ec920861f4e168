//! The project document: one JSON file that describes the building as far as its mechanical room needs it.
//!
//! Everything but ids and kinds is optional. What is not there is not known, and a rule that needs it answers
//! `unresolved`; what is known to be none is said: an empty list, `false`, the word `none`. A list says what is in it and not
//! that there is nothing else; where that decides, `<list>_complete: true` beside it says so.
//!
//! An author writes amounts as text (`"36 in"`); the host turns them into the canonical form that rules read. The JSON Schema
//! refuses fields and words it does not know; these types pass over them, so that a rule module built years ago still reads a
//! project of today.

#[macro_use]
mod read;
#[macro_use]
mod record;

mod assembly;
mod building;
mod concealed;
mod drainage;
mod duct;
mod electrical;
mod equipment;
mod equipment_kind;
mod equipment_nature;
mod evidence;
mod exhaust;
mod fuel_burning;
mod gas;
mod gas_parts;
mod geometry;
mod interior;
mod opening;
mod panel;
mod protection;
mod raceway;
#[cfg(feature = "json-schema")]
mod range;
mod relief;
#[cfg(feature = "json-schema")]
mod schema;
mod site;
mod space;
mod storage;
mod variance;
mod vent;
mod water;
mod water_parts;

#[cfg(test)]
mod tests;

pub use assembly::*;
pub use building::*;
pub use concealed::*;
pub use drainage::*;
pub use duct::*;
pub use electrical::*;
pub use equipment::*;
pub use equipment_kind::*;
pub use equipment_nature::*;
pub use evidence::*;
pub use exhaust::*;
pub use fuel_burning::*;
pub use gas::*;
pub use gas_parts::*;
pub use geometry::*;
pub use interior::*;
pub use opening::*;
pub use panel::*;
pub use protection::*;
pub use raceway::*;
pub use relief::*;
#[cfg(feature = "json-schema")]
pub use schema::json_schema;
pub use site::*;
pub use space::*;
pub use storage::*;
pub use variance::*;
pub use vent::*;
pub use water::*;
pub use water_parts::*;

use crate::contract::Stage;
pub use read::{Read, ReadError, Reader};
use read::{optional, read, required};
use serde::Serialize;
use serde_json::Value;

/// The number in the `schema` field of a project document.
pub const SCHEMA: u32 = 1;

/// The published JSON Schema of the document, for tests that go by it without the machinery that makes it.
pub const JSON_SCHEMA: &str = include_str!("../../json/project.schema.json");

record! {
    /// A pack the project is reviewed under.
    PackReference {
        /// The pack's name.
        name: String, like "skerry-county";
        /// The versions that will do.
        version: String, like "^1.0";
    }
}

/// A project: a building held against the rules.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
#[cfg_attr(feature = "json-schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct Project {
    /// Where the JSON Schema of this document lies, for editors.
    #[serde(rename = "$schema", skip_serializing_if = "Option::is_none")]
    pub schema_location: Option<String>,
    /// Version of this document: 1.
    #[cfg_attr(feature = "json-schema", schemars(extend("const" = 1)))]
    pub schema: u32,
    /// What people call the project.
    #[cfg_attr(feature = "json-schema", schemars(extend("x-descriptive" = true)))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// The stage the file is written for; a review may ask for another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stage: Option<Stage>,
    /// Date of the permit application, `YYYY-MM-DD`: the law of that day is asked about.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "json-schema", schemars(extend("examples" = ["2025-04-01"])))]
    pub application_date: Option<String>,
    /// The packs it is reviewed under.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub packs: Option<Vec<PackReference>>,
    /// The site.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub site: Option<Site>,
    /// The building as a whole.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub building: Option<Building>,
    /// Rooms and other volumes.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spaces: Option<Vec<Space>>,
    /// Openings between spaces and to the outdoors.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub openings: Option<Vec<Opening>>,
    /// Equipment.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub equipment: Option<Vec<Equipment>>,
    /// Fuel gas.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gas: Option<Gas>,
    /// Vents and chimneys.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub vents: Option<Vec<Vent>>,
    /// Ducts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ducts: Option<Vec<Duct>>,
    /// Whatever draws air out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub exhausts: Option<Vec<Exhaust>>,
    /// Wiring.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub electrical: Option<Electrical>,
    /// Raceways.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub raceways: Option<Vec<Raceway>>,
    /// Drainage.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub drainage: Option<Drainage>,
    /// Water.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub water: Option<Water>,
    /// What the authority has granted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub variances: Option<Vec<Variance>>,
    /// Remarks for people; no rule reads them.
    #[cfg_attr(feature = "json-schema", schemars(extend("x-descriptive" = true)))]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub notes: Option<Vec<String>>,
}

/// Which parts of a project somebody reads. Known when a rule module is compiled, so that the code for reading the other
/// parts is not in it: half of a module would be nothing else.
pub trait Parts {
    /// JSON pointers, rule by rule. `""` is the whole document.
    const READS: &'static [&'static [&'static str]];
}

/// All of it.
struct Whole;

impl Parts for Whole {
    const READS: &'static [&'static [&'static str]] = &[&[""]];
}

/// Whether `name`, a field of the document, holds anything these pointers lead to.
const fn wanted(reads: &[&[&str]], name: &str) -> bool {
    let mut rule = 0;
    while rule < reads.len() {
        let mut at = 0;
        while at < reads[rule].len() {
            if leads_to(reads[rule][at].as_bytes(), name.as_bytes()) {
                return true;
            }
            at += 1;
        }
        rule += 1;
    }
    false
}

const fn leads_to(pointer: &[u8], name: &[u8]) -> bool {
    if pointer.is_empty() {
        return true;
    }
    if pointer.len() <= name.len() || (pointer.len() > name.len() + 1 && pointer[name.len() + 1] != b'/') {
        return false;
    }
    let mut at = 0;
    while at < name.len() {
        if pointer[at + 1] != name[at] {
            return false;
        }
        at += 1;
    }
    true
}

impl Project {
    /// Reads all of it.
    ///
    /// # Errors
    /// When a value has another shape.
    pub fn read(value: Value) -> Result<Self, ReadError> {
        read(value)
    }

    /// Reads the parts somebody reads; the others are not said.
    ///
    /// # Errors
    /// When a value has another shape.
    pub fn read_parts<P: Parts>(mut value: Value) -> Result<Self, ReadError> {
        let mut reader = Reader::default();
        let project = Self::parts_from::<P>(&mut value, &mut reader);
        reader.end(project)
    }

    fn parts_from<P: Parts>(value: &mut Value, reader: &mut Reader) -> Self {
        let mut project = Self::default();
        let Some(fields) = reader.object(value) else { return project };
        macro_rules! parts {
            ($($name:literal $field:ident,)*) => {
                $(if const { wanted(P::READS, $name) } {
                    optional(fields, $name, &mut project.$field, reader);
                })*
            };
        }
        required(fields, "schema", &mut project.schema, reader);
        parts! { "$schema" schema_location, }
        optional(fields, "name", &mut project.name, reader);
        optional(fields, "stage", &mut project.stage, reader);
        optional(fields, "application_date", &mut project.application_date, reader);
        parts! {
            "packs" packs,
            "site" site,
            "building" building,
            "spaces" spaces,
            "openings" openings,
            "equipment" equipment,
            "gas" gas,
            "vents" vents,
            "ducts" ducts,
            "exhausts" exhausts,
            "electrical" electrical,
            "raceways" raceways,
            "drainage" drainage,
            "water" water,
            "variances" variances,
            "notes" notes,
        }
        project
    }
}

impl Read for Project {
    fn read_from(value: &mut Value, reader: &mut Reader) -> Self {
        Self::parts_from::<Whole>(value, reader)
    }
}

read_by_value!(Project);

#[cfg(test)]
mod parts_tests {
    use super::*;

    struct GasAlone;

    impl Parts for GasAlone {
        const READS: &'static [&'static [&'static str]] = &[&["/gas/supply"], &["/sit"]];
    }

    #[test]
    fn a_part_nobody_reads_is_not_said() {
        let value = serde_json::json!({"schema": 1, "site": {}, "gas": {}, "water": {}});
        let project = Project::read_parts::<GasAlone>(value.clone()).expect("it reads");
        assert!(project.gas.is_some() && project.site.is_none() && project.water.is_none());
        assert!(Project::read(value).expect("it reads").water.is_some());
    }
}
