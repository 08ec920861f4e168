//! What findings call the things of a project.

use crate::Named;
use redtag_schema::project as p;

fn called(kind: &str, name: Option<&str>, id: &str) -> String {
    match name {
        Some(name) => format!("{name} ({id})"),
        None => format!("{} {id}", kind.replace('-', " ")),
    }
}

impl Named for p::Project {
    fn id(&self) -> Option<&str> {
        None
    }
    fn label(&self) -> String {
        "the project".to_owned()
    }
}

impl Named for p::Space {
    fn id(&self) -> Option<&str> {
        Some(&self.id)
    }
    fn label(&self) -> String {
        called(self.kind.word(), self.name.as_deref(), &self.id)
    }
}

impl Named for p::Opening {
    fn id(&self) -> Option<&str> {
        Some(&self.id)
    }
    fn label(&self) -> String {
        called(self.kind.word(), None, &self.id)
    }
}

impl Named for p::Equipment {
    fn id(&self) -> Option<&str> {
        Some(&self.id)
    }
    fn label(&self) -> String {
        called(self.kind.word(), self.name.as_deref(), &self.id)
    }
}

macro_rules! by_kind {
    ($($thing:ident),+) => {$(impl Named for p::$thing {
        fn id(&self) -> Option<&str> {
            Some(&self.id)
        }
        fn label(&self) -> String {
            called(self.kind.word(), None, &self.id)
        }
    })+};
}
by_kind!(Duct, Exhaust, GasNode, GasRegulator);
by_kind!(Discharge, Drain, DrainPipe, Generator, Transfer);
by_kind!(Raceway, PullBox);
by_kind!(Fixture, Penetration, Relief, WaterPipe, Vent, WaterSource, WaterValve);

macro_rules! by_id {
    ($($thing:ident is $words:literal),+) => {$(impl Named for p::$thing {
        fn id(&self) -> Option<&str> {
            Some(&self.id)
        }
        fn label(&self) -> String {
            called($words, None, &self.id)
        }
    })+};
}
by_id!(DrainagePump is "drainage pump", IndirectWaste is "indirect pipe");
by_id!(GasSegment is "gas pipe", GasSizingTable is "sizing table", VentConnector is "vent connector");
by_id!(StorageSystem is "storage system", StorageUnit is "storage unit", Inverter is "inverter", Disconnect is "disconnect");
by_id!(Panel is "panel", Circuit is "circuit", ElectricalService is "service");
by_id!(Feeder is "feeder", SolarArray is "solar array", Receptacle is "receptacle");

impl Named for p::Load {
    fn id(&self) -> Option<&str> {
        Some(&self.id)
    }
    fn label(&self) -> String {
        called("load", self.name.as_deref(), &self.id)
    }
}
by_kind!(Assembly, ConcealedSpace, DuctOpening, Support);
