//! Drainage against general-purpose libraries: scikit-image (morphological reconstruction) and fluids. `reference/drainage.py`
//! makes the numbers and names functions and versions.

use redtag_handbook::drainage::*;
use redtag_handbook::units::{inches, square_inches};
use serde_json::Value;
use uom::si::f64::{Length, Ratio};
use uom::si::{length, ratio, velocity};

fn reference() -> Value {
    serde_json::from_str(include_str!("../reference/drainage.json")).unwrap()
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(|number| number.as_f64().unwrap()).collect()
}

#[test]
fn floods_of_random_grids_equal_reconstruction_exactly() {
    let all = reference();
    let cases = all["grids"].as_array().unwrap();
    assert_eq!(cases.len(), 48);
    for case in cases {
        let grid = Grid { columns: case["columns"].as_u64().unwrap() as usize, heights: numbers(&case["heights"]) };
        let outlets: Vec<usize> = numbers(&case["outlets"]).into_iter().map(|cell| cell as usize).collect();
        let fill = grid.fill(&outlets, case["eight"].as_bool().unwrap());
        assert_eq!(fill.levels, numbers(&case["levels"]));
    }
}

#[test]
fn manning_flow_agrees_with_fluids() {
    for case in reference()["manning"].as_array().unwrap() {
        let number = |name: &str| case[name].as_f64().unwrap();
        let slope = Ratio::new::<ratio::ratio>(number("slope"));
        let water = part_full(inches(number("diameter_in")), number("fill"), slope, number("n"));
        assert!((in_gallons_per_minute(water.flow) / number("flow_gpm") - 1.0).abs() < 1e-9, "{case}");
        let speed = water.velocity.get::<velocity::foot_per_second>();
        assert!((speed / number("velocity_fps") - 1.0).abs() < 1e-6, "{case}");
    }
}

#[test]
fn orifices_and_rims_agree_with_fluids() {
    let all = reference();
    for case in all["orifices"].as_array().unwrap() {
        let number = |name: &str| case[name].as_f64().unwrap();
        let flow = orifice_flow(square_inches(number("open_in2")), inches(number("depth_in")), 0.67);
        assert!((in_gallons_per_minute(flow) / number("flow_gpm") - 1.0).abs() < 1e-6, "{case}");
    }
    for case in all["rims"].as_array().unwrap() {
        let number = |name: &str| case[name].as_f64().unwrap();
        let flow = weir_flow(Length::new::<length::meter>(number("length_m")), inches(number("depth_in")));
        // Its limits begin above 0.8 in; HEC-22's coefficient is the smaller one.
        assert!((0.85..0.95).contains(&(in_gallons_per_minute(flow) / number("flow_gpm"))), "{case}");
    }
}
