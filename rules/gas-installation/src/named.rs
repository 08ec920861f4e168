//! What findings call the parts of the gas piping.

use redtag_rule::prelude::*;

/// A part of the gas piping a finding can be about.
pub trait Part {
    /// Its id, where it has one.
    fn id(&self) -> Option<&str>;
    /// What it is, in the trade's words.
    fn what(&self) -> String;
}

macro_rules! parts {
    ($($of:ty: $what:expr;)+) => {$(impl Part for $of {
        fn id(&self) -> Option<&str> {
            Some(&self.id)
        }
        fn what(&self) -> String {
            let what: fn(&$of) -> String = $what;
            what(self)
        }
    })+};
}
parts! {
    GasSegment: |_| "gas pipe".to_owned();
    GasConnector: |_| "connector".to_owned();
    GasContainer: |container| format!("propane {}", container.kind.word());
    GasRegulator: |regulator| format!("{} regulator", regulator.kind.word().replace('-', " "));
}

macro_rules! nameless {
    ($($of:ty: $what:literal;)+) => {$(impl Part for $of {
        fn id(&self) -> Option<&str> {
            None
        }
        fn what(&self) -> String {
            $what.to_owned()
        }
    })+};
}
nameless! {
    Gas: "the gas piping";
    GasBonding: "the bond of the gas piping";
    PressureTest: "the gas pressure test";
}

/// The name of a part.
pub struct Called {
    id: Option<String>,
    label: String,
}

impl Named for Called {
    fn id(&self) -> Option<&str> {
        self.id.as_deref()
    }
    fn label(&self) -> String {
        self.label.clone()
    }
}

fn called<T: Part>(part: &Place<T>) -> Called {
    let id = part.get().id().map(str::to_owned);
    let label = match &id {
        Some(id) => format!("{} {id}", part.get().what()),
        None => part.get().what(),
    };
    Called { id, label }
}

/// Works a sheet about a part.
pub fn sheet<T: Part>(part: &Place<T>, wanted: &str, work: impl FnOnce(&mut Sheet) -> Lookup<Text>) -> Finding {
    Place::new(&called(part), part.pointer()).sheet(wanted, work)
}

/// The rule does not concern the part.
pub fn not_concerned<T: Part>(part: &Place<T>, why: Text) -> Finding {
    Place::new(&called(part), part.pointer()).not_applicable(why).done()
}
