//! The table of treatments, row by row.

use super::*;

fn gas() -> ApplianceFacts {
    ApplianceFacts { energy: Some(EnergySource::FuelGas), air: Some(AirSource::Room), ..Default::default() }
}

fn treated(facts: ApplianceFacts) -> Treatment {
    treatment(&facts, &CountingPolicy::default())
}

fn counts(class: BurnerClass, why: Why) -> Treatment {
    Treatment::Counts { class, why }
}

#[test]
fn draft_hoods_count_as_other() {
    let facts = ApplianceFacts { burner: Some(Burner::NaturalDraft), vent: Some(VentCategory::One), ..gas() };
    assert_eq!(treated(facts), counts(BurnerClass::Other, Why::NaturalDraft));
    assert_eq!(treated(ApplianceFacts { vent: None, ..facts }), counts(BurnerClass::Other, Why::NaturalDraft));
}

#[test]
fn fan_assisted_category_one_counts_as_fan_assisted() {
    let facts = ApplianceFacts { burner: Some(Burner::FanAssisted), vent: Some(VentCategory::One), ..gas() };
    assert_eq!(treated(facts), counts(BurnerClass::FanAssisted, Why::FanAssisted));
}

#[test]
fn direct_vent_is_excluded_whatever_else_is_unknown() {
    let facts = ApplianceFacts { air: Some(AirSource::DirectVent), ..Default::default() };
    assert_eq!(treated(facts), Treatment::Excluded { why: Why::DirectVent });
}

#[test]
fn one_pipe_condensing_appliances_count_unless_their_instructions_say_otherwise() {
    let facts = ApplianceFacts { vent: Some(VentCategory::Four), ..gas() };
    let counted = counts(BurnerClass::FanAssisted, Why::RoomAirNotCategoryOne);
    assert_eq!(treated(facts), counted);
    let own = ApplianceFacts { instructions: Some(AirInstructions::OwnRequirement), ..facts };
    assert_eq!(treated(own), Treatment::FollowsInstructions { why: Why::RoomAirNotCategoryOne });
    let ask = CountingPolicy { not_category_one: UnstatedInstructions::Ask, ..Default::default() };
    assert_eq!(treatment(&facts, &ask), Treatment::NeedsInstructions { why: Why::RoomAirNotCategoryOne });
    let code = ApplianceFacts { instructions: Some(AirInstructions::CodeMethods), ..facts };
    assert_eq!(treatment(&code, &ask), counted);
}

#[test]
fn power_burners_need_their_instructions() {
    let facts = ApplianceFacts { burner: Some(Burner::PowerBurner), ..gas() };
    assert_eq!(treated(facts), Treatment::NeedsInstructions { why: Why::PowerBurner });
}

#[test]
fn air_from_a_ventilated_attic_is_not_room_air() {
    let facts = ApplianceFacts { air: Some(AirSource::VentilatedAttic), ..gas() };
    assert_eq!(treated(facts), Treatment::Excluded { why: Why::AirFromVentilatedSpace });
}

#[test]
fn all_appliances_in_the_space_count_unless_a_pack_says_otherwise() {
    let range = ApplianceFacts { duty: Duty::Cooking, air: None, ..gas() };
    assert_eq!(treated(range), counts(BurnerClass::Other, Why::DomesticAppliance));
    let policy = CountingPolicy { cooking: false, ..Default::default() };
    assert_eq!(treatment(&range, &policy), Treatment::Excluded { why: Why::NotCountedHere });
    let heater = ApplianceFacts { vent: Some(VentCategory::Unvented), ..gas() };
    assert_eq!(treated(heater), counts(BurnerClass::Other, Why::Unvented));
}

#[test]
fn a_dryer_with_makeup_air_is_exempt() {
    let dryer = |makeup_air| ApplianceFacts { duty: Duty::ClothesDrying { makeup_air }, ..gas() };
    assert_eq!(treated(dryer(Some(true))), Treatment::Excluded { why: Why::DryerWithMakeupAir });
    assert_eq!(treated(dryer(Some(false))), counts(BurnerClass::Other, Why::DomesticAppliance));
    assert_eq!(treated(dryer(None)), Treatment::Undetermined { missing: vec![Fact::DryerMakeupAir] });
    let policy = CountingPolicy { clothes_dryers: false, ..Default::default() };
    assert_eq!(treatment(&dryer(None), &policy), Treatment::Excluded { why: Why::NotCountedHere });
}

#[test]
fn other_fuels_belong_to_other_codes() {
    let oil = ApplianceFacts { energy: Some(EnergySource::Oil), ..gas() };
    assert_eq!(treated(oil), Treatment::OtherCode { why: Why::Oil });
    let wood = ApplianceFacts { energy: Some(EnergySource::SolidFuel), ..gas() };
    assert_eq!(treated(wood), Treatment::OtherCode { why: Why::SolidFuel });
    let heat_pump = ApplianceFacts { energy: Some(EnergySource::Electricity), ..Default::default() };
    assert_eq!(treated(heat_pump), Treatment::Excluded { why: Why::NoBurner });
}

#[test]
fn a_decision_for_the_project_wins() {
    let facts = ApplianceFacts { burner: Some(Burner::NaturalDraft), decided: Some(false), ..gas() };
    assert_eq!(treated(facts), Treatment::Excluded { why: Why::Decided });
    let sealed =
        ApplianceFacts { burner: Some(Burner::FanAssisted), air: Some(AirSource::DirectVent), decided: Some(true), ..gas() };
    assert_eq!(treated(sealed), counts(BurnerClass::FanAssisted, Why::Decided));
}

#[test]
fn what_is_missing_is_named() {
    assert_eq!(treated(ApplianceFacts::default()), Treatment::Undetermined { missing: vec![Fact::Energy] });
    assert_eq!(treated(gas()), Treatment::Undetermined { missing: vec![Fact::Burner] });
    let facts = ApplianceFacts { air: None, ..gas() };
    assert_eq!(treated(facts), Treatment::Undetermined { missing: vec![Fact::Air, Fact::Burner] });
}
