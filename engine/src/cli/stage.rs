//! The stages of a project, as options name them.

use clap::ValueEnum;
use redtag_schema::contract::Stage;

/// A stage.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum StageName {
    /// What is drawn and specified.
    Permit,
    /// Pipes, wires and ducts are in, walls are open.
    RoughIn,
    /// Everything stands.
    Final,
}

impl From<StageName> for Stage {
    fn from(name: StageName) -> Self {
        match name {
            StageName::Permit => Self::Permit,
            StageName::RoughIn => Self::RoughIn,
            StageName::Final => Self::Final,
        }
    }
}
