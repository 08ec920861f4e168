//! Lists the rules of this module.

fn main() -> std::io::Result<()> {
    redtag_rule_registry::derive()
}
