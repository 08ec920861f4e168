//! The clearances family: is there room to work before electrical equipment, is the space above and below it kept free, and
//! does every appliance stand far enough from what can burn.
//!
//! Shared by the rules: a room with what stands in it (`scene`), the search for a working space (`workspace`), what is
//! electrical (`gear`), the greatest voltage to ground (`voltage`), what a wall or a body is to somebody who works before it
//! or to a flame (`surface`), labels (`label`) and protection (`shields`), pipes and ducts in the open (`runs`), cures that
//! move something (`moving`), numbers of the geometry as amounts (`amounts`).

mod amounts;
mod gear;
mod label;
mod moving;
#[cfg(test)]
mod random_rooms;
mod runs;
mod scene;
mod shields;
mod surface;
mod voltage;
mod workspace;

redtag_rule::module!("clearances", guarded);
