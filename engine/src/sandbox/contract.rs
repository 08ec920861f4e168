//! Whether what a module offers has the types of the contract: seen when it is loaded, not when it is first called.

use wasmtime::component::types::ComponentItem;
use wasmtime::component::{Component, ComponentExportIndex, ComponentNamedList, Lift, Lower};

/// What a module offers, as `schema/wit` names it; a later 1.x answers to this name too.
const MODULE: &str = "redtag:rules/module@1.0.0";

/// Checks both functions of the contract.
///
/// # Errors
/// In words: the function that is missing, or how its type differs.
pub(super) fn check(component: &Component) -> Result<(), String> {
    let (_, module) = component.get_export(None, MODULE).ok_or_else(|| format!("`{MODULE}` is not there"))?;
    function::<(), (String,)>(component, &module, "describe")?;
    function::<(&str,), (Result<String, String>,)>(component, &module, "review")
}

fn function<Parameters, Answer>(component: &Component, module: &ComponentExportIndex, name: &str) -> Result<(), String>
where
    Parameters: ComponentNamedList + Lower,
    Answer: ComponentNamedList + Lift,
{
    match component.get_export(Some(module), name) {
        Some((ComponentItem::ComponentFunc(function), _)) => function
            .typecheck::<Parameters, Answer>(&component.component_type().instance_type())
            .map_err(|error| format!("`{name}` has other types than the contract: {error:#}")),
        _ => Err(format!("the function `{name}` is not there")),
    }
}
