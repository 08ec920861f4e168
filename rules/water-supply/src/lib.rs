//! The water supply family: does enough water reach the last tap, clean, at a pressure the house can bear.

redtag_rule::module!("water-supply");
