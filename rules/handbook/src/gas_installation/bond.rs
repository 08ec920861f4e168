//! Sizes of bonding conductors.

/// Sizes a bonding jumper is made of, the thinnest first.
pub const BONDING_GAUGES: [&str; 8] = ["14 AWG", "12 AWG", "10 AWG", "8 AWG", "6 AWG", "4 AWG", "2 AWG", "1/0 AWG"];

/// How thick a conductor of American Wire Gauge is, for comparison: each step up is thicker, `6 AWG` is -6, `1/0 AWG` is 0,
/// `4/0 AWG` is 3. `None` where the text is no such size.
pub fn gauge(written: &str) -> Option<i32> {
    let text = written.trim().trim_start_matches("No.").trim_start_matches('#').trim();
    let number = text.strip_suffix("AWG").or_else(|| text.strip_suffix("awg")).unwrap_or(text).trim();
    if let Some(aughts) = number.strip_suffix("/0") {
        let aughts: i32 = aughts.parse().ok()?;
        return (1..=4).contains(&aughts).then_some(aughts - 1);
    }
    let number: i32 = number.parse().ok()?;
    (1..=40).contains(&number).then_some(-number)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thicker_is_greater_and_nonsense_is_nothing() {
        let sizes: Vec<_> = BONDING_GAUGES.iter().map(|size| gauge(size)).collect();
        assert!(sizes.windows(2).all(|pair| pair[0].is_some() && pair[0] < pair[1]));
        assert_eq!([gauge("#6"), gauge("6 awg"), gauge("4/0 AWG"), gauge("No. 8 AWG")], [Some(-6), Some(-6), Some(3), Some(-8)]);
        assert_eq!([gauge(""), gauge("6 mm"), gauge("5/0"), gauge("0"), gauge("250 kcmil")], [None; 5]);
    }
}
