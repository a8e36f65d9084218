//! What people write, read against published conversion factors.

use proptest::prelude::*;
use units::*;

fn close(a: f64, b: f64, share: f64) -> bool {
    (a - b).abs() <= share * b.abs().max(1e-12)
}

#[test]
fn lengths() {
    for (text, expected) in [
        ("3/8", 9.525),
        ("3/8\"", 9.525),
        ("3/8''", 9.525),
        ("3⁄8″", 9.525),
        ("⅜", 9.525),
        ("10mm", 10.0),
        ("10", 10.0),
        ("0.5 in", 12.7),
        (".5in", 12.7),
        ("1 1/2 in", 38.1),
        ("1½\"", 38.1),
        ("2-3/4\"", 69.85),
        ("2 1/4", 57.15),
        ("12,5 mm", 12.5),
        ("7.5cm", 75.0),
        ("1.2 m", 1200.0),
        ("0,375 in", 9.525),
        ("5' 6\"", 1676.4),
        ("5 ft 6 in", 1676.4),
        ("6 FT", 1828.8),
        ("1 250.0 mm", f64::NAN),
        ("1 250 mm", 1250.0),
        ("1,250.5 mm", 1250.5),
        ("1.250,5 mm", 1250.5),
        ("1.5e+02 mm", 150.0),
        ("500 µm", 0.5),
    ] {
        match parse_length(text, Some(LengthUnit::Millimetre)) {
            Ok(read) => assert!(close(read.as_mm(), expected, 1e-12), "{text}: {} mm", read.as_mm()),
            Err(_) => assert!(expected.is_nan(), "{text}"),
        }
    }
    assert_eq!(parse_length("12 ft", None).unwrap().as_foot().round(), 12.0);
    assert!(matches!(parse_length("10", None), Err(ParseError::MissingUnit { .. })));
    assert!(matches!(parse_length("1/2", Some(LengthUnit::Foot)), Err(ParseError::Ambiguous { .. })));
}

#[test]
fn two_readings_are_named() {
    let Err(ParseError::Ambiguous { first, second, .. }) = parse_length("1,250 mm", None) else {
        panic!("a comma before three digits has two readings");
    };
    assert_eq!((first.as_str(), second.as_str()), ("1.250", "1250"));
    let Err(error) = parse_diameter("1") else { panic!("1 mm or 1 in") };
    assert_eq!(error.to_string(), "\"1\" can be read as 1 mm or as 1 in; write which one is meant");
}

#[test]
fn refused_lengths() {
    for text in [
        "",
        " ",
        "NaN",
        "nan mm",
        "inf",
        "-10 mm",
        "-3/8",
        "3/7",
        "8/3",
        "3/8/2021",
        "3/0",
        "1e999 mm",
        "99999999 m",
        "ten",
        "10 kN",
        "1.2.3 mm",
        "1,2,3",
        "/8",
        "3/",
        "mm",
    ] {
        assert!(parse_length(text, Some(LengthUnit::Millimetre)).is_err(), "{text}");
    }
}

/// Nominal sizes of ASME B18.2.1 inch bolts in millimetres (25.4 mm to the inch, NIST SP 811).
#[test]
fn inch_bolts() {
    for (text, expected) in [
        ("1/4", 6.35),
        ("5/16", 7.9375),
        ("3/8", 9.525),
        ("7/16", 11.1125),
        ("1/2", 12.7),
        ("5/8", 15.875),
        ("3/4", 19.05),
        (".375", 9.525),
        ("0.5", 12.7),
        ("3/8-16", 9.525),
    ] {
        assert!(close(parse_diameter(text).unwrap().as_mm(), expected, 1e-12), "{text}");
    }
}

#[test]
fn bolt_sizes() {
    for (text, diameter, length) in [
        ("M12x90", 12.0, Some(90.0)),
        ("m12 X 90", 12.0, Some(90.0)),
        ("M 12 × 90 mm", 12.0, Some(90.0)),
        ("M12x1.75x110", 12.0, Some(110.0)),
        ("M10x1.5", 10.0, None),
        ("M10", 10.0, None),
        ("10", 10.0, None),
        ("Ø12", 12.0, None),
        ("12 mm", 12.0, None),
        ("10x100", 10.0, Some(100.0)),
        ("10*100", 10.0, Some(100.0)),
        ("12 mm x 100 mm", 12.0, Some(100.0)),
        ("12mm by 80", 12.0, Some(80.0)),
        ("3/8 x 2 1/4", 9.525, Some(57.15)),
        ("3/8\" x 2-1/4\"", 9.525, Some(57.15)),
        ("1/2\" x 2-3/4\"", 12.7, Some(69.85)),
        ("1/2 x 2¾", 12.7, Some(69.85)),
        ("3/8-16 x 3", 9.525, Some(76.2)),
        ("0.5 x 3 in", 12.7, Some(76.2)),
        ("1/2 x 100mm", 12.7, Some(100.0)),
        ("8 x 25 long", 8.0, Some(25.0)),
    ] {
        let size = parse_bolt_size(text).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert!(close(size.diameter.as_mm(), diameter, 1e-12), "{text}");
        assert_eq!(size.length.is_some(), length.is_some(), "{text}");
        if let (Some(read), Some(expected)) = (size.length, length) {
            assert!(close(read.as_mm(), expected, 1e-12), "{text}: {}", read.as_mm());
        }
    }
    for text in ["1", "2", "5", "3/8 x 80", "10 x 3", "12 x 4 in", "10 x 2 1/4"] {
        assert!(matches!(parse_bolt_size(text), Err(ParseError::Ambiguous { .. })), "{text}");
    }
    for text in [
        "",
        "x",
        "10x",
        "x90",
        "M12x90x80x70",
        "M12x90x80",
        "-10",
        "M120",
        "500",
        "M12x9000",
        "3/7",
        "NaN",
        "10x0",
        "08-Mar",
        "2021-03-08",
        "M12x90 kN",
    ] {
        assert!(parse_bolt_size(text).is_err(), "{text}");
    }
}

/// Factors of NIST SP 811 (2008), appendix B.8, to the digits printed there.
#[test]
fn nist_sp_811() {
    let force = |t| parse_force(t, None).unwrap().as_n();
    let torque = |t| parse_torque(t, None).unwrap().as_nm();
    let stress = |t| parse_stress(t, None).unwrap().as_pa();
    for (read, printed) in [
        (force("1 kgf"), 9.80665),
        (force("1 lbf"), 4.448222),
        (force("1 kip"), 4.448222e3),
        (torque("1 ft-lb"), 1.355818),
        (torque("1 lbf·ft"), 1.355818),
        (torque("1 in-lb"), 1.129848e-1),
        (torque("1 kgf.m"), 9.80665),
        (stress("1 psi"), 6.894757e3),
        (stress("1 ksi"), 6.894757e6),
        (stress("1 bar"), 1e5),
        (parse_length("1 in", None).unwrap().as_m(), 2.54e-2),
        (parse_length("1 ft", None).unwrap().as_m(), 3.048e-1),
        (parse_angle("1°", None).unwrap().as_rad(), 1.745329e-2),
    ] {
        assert!(close(read, printed, 5e-7), "{read} against {printed}");
    }
    let celsius = |t| parse_temperature(t, None).unwrap().as_celsius();
    assert!((celsius("32 F") - 0.0).abs() < 1e-9);
    assert!((celsius("50 °F") - 10.0).abs() < 1e-9);
    assert!((celsius("273.15 K") - 0.0).abs() < 1e-9);
    assert!((celsius("-5C") + 5.0).abs() < 1e-12);
}

#[test]
fn written_forces_and_torques() {
    for (text, newton) in [
        ("25kN", 25e3),
        ("25 KN", 25e3),
        ("22 000 N", 22e3),
        ("2200 daN", 22e3),
        ("22,5 kN", 22.5e3),
        ("5,620.5 lbf", 25_001.229),
        ("2250 kg", 22_064.962_5),
        ("5.6 klbf", 24_910.041),
    ] {
        assert!(close(parse_force(text, None).unwrap().as_n(), newton, 1e-6), "{text}");
    }
    assert_eq!(parse_force("25", Some(ForceUnit::Kilonewton)).unwrap().as_kn(), 25.0);
    assert!(matches!(parse_force("25", None), Err(ParseError::MissingUnit { .. })));
    assert!(matches!(parse_force("25 mm", None), Err(ParseError::UnknownUnit { .. })));
    assert!(matches!(parse_force("-2 kN", None), Err(ParseError::OutOfRange { .. })));
    assert!(matches!(parse_force("2,500 lbf", None), Err(ParseError::Ambiguous { .. })));
    for text in ["25Nm", "25 N·m", "25 N m", "25 nm", "25 N*m"] {
        assert_eq!(parse_torque(text, None).unwrap().as_nm(), 25.0, "{text}");
    }
    for text in ["18 ft-lb", "18 ft·lbf", "18 ft lbs", "18 lb-ft", "18 foot-pounds"] {
        assert!(close(parse_torque(text, None).unwrap().as_ft_lbf(), 18.0, 1e-12), "{text}");
    }
}

#[test]
fn shown_in_both_systems() {
    let (metric, us) = (UnitSystem::Metric, UnitSystem::Us);
    assert_eq!(metric.force(Force::kn(12.345)), "12.3 kN");
    assert_eq!(metric.force(Force::kn(25.0)), "25.0 kN");
    assert_eq!(metric.force(Force::kn(9.996)), "10.0 kN");
    assert_eq!(us.force(Force::kn(12.345)), "2780 lbf");
    assert_eq!(metric.length(Length::mm(90.0)), "90 mm");
    assert_eq!(metric.length(Length::mm(12.5)), "12.5 mm");
    assert_eq!(us.length(Length::mm(90.0)), "3.54 in");
    assert_eq!(metric.height(Length::m(12.53)), "12.5 m");
    assert_eq!(us.height(Length::m(12.5)), "41 ft");
    assert_eq!(metric.bolt_size(Length::mm(12.0), Some(Length::mm(90.0))), "12 x 90 mm");
    assert_eq!(metric.bolt_size(Length::inch(0.375), None), "9.5 mm (3/8 in)");
    assert_eq!(us.bolt_size(Length::inch(0.375), Some(Length::inch(2.25))), "3/8 x 2 1/4 in");
    assert_eq!(us.bolt_size(Length::mm(12.0), None), "12 mm (0.47 in)");
    assert_eq!(us.bolt_size(Length::inch(1.0), None), "1 in");
    assert_eq!(metric.torque(Torque::nm(25.0)), "25 N·m");
    assert_eq!(us.torque(Torque::nm(25.0)), "18.4 ft·lbf");
    assert_eq!(us.stress(Stress::mpa(62.5)), "9060 psi");
    assert_eq!(metric.temperature(Temperature::celsius(-5.0)), "-5 °C");
    assert_eq!(us.temperature(Temperature::celsius(8.0)), "46 °F");
    assert_eq!(metric.angle(Angle::deg(90.0)), "90°");
    assert_eq!(us.mass(Mass::kg(80.0)), "176 lb");
}

proptest! {
    /// No text makes a parser panic, and what is read is finite and in its range.
    #[test]
    fn any_text(text in "\\PC{0,24}") {
        if let Ok(l) = parse_length(&text, Some(LengthUnit::Millimetre)) {
            prop_assert!(l.is_finite() && l.as_m() >= -1e-9 && l.as_m() <= 10_000.1);
        }
        if let Ok(size) = parse_bolt_size(&text) {
            prop_assert!(size.diameter.as_mm() > 2.99 && size.diameter.as_mm() < 40.01);
            if let Some(l) = size.length { prop_assert!(l.as_mm() > 9.99 && l.as_mm() < 1000.01); }
        }
        if let Ok(f) = parse_force(&text, Some(ForceUnit::Kilonewton)) { prop_assert!(f.is_finite() && f.as_n() >= 0.0); }
        let _ = parse_torque(&text, None);
        let _ = parse_stress(&text, None);
        let _ = parse_angle(&text, None);
        let _ = parse_temperature(&text, None);
        let _ = parse_diameter(&text);
    }

    /// The same with the characters that sizes are made of.
    #[test]
    fn any_size_like_text(text in "[mM0-9xX/.,' \"½-]{0,14}") {
        let _ = parse_bolt_size(&text);
        let _ = parse_length(&text, None);
    }

    /// What is shown is read back to the precision shown.
    #[test]
    fn shown_and_read_back(kn in 0.01f64..900.0, mm in 0.5f64..900.0, nm in 0.5f64..900.0) {
        for system in [UnitSystem::Metric, UnitSystem::Us] {
            let force = parse_force(&system.force(Force::kn(kn)), None).unwrap();
            prop_assert!(close(force.as_kn(), kn, 5.1e-3));
            let length = parse_length(&system.length(Length::mm(mm)), None).unwrap();
            prop_assert!((length.as_mm() - mm).abs() <= (5.1e-3 * mm).max(0.13));
            let torque = parse_torque(&system.torque(Torque::nm(nm)), None).unwrap();
            prop_assert!((torque.as_nm() - nm).abs() <= (5.1e-3 * nm).max(0.07));
        }
    }

    /// Every size in sixteenths that is shown as a fraction is read back exactly.
    #[test]
    fn fractions_there_and_back(d in 2u32..24, l in 8u32..190) {
        let (diameter, length) = (Length::inch(f64::from(d) / 16.0), Length::inch(f64::from(l) / 16.0));
        let size = parse_bolt_size(&UnitSystem::Us.bolt_size(diameter, Some(length))).unwrap();
        prop_assert!(close(size.diameter.as_mm(), diameter.as_mm(), 1e-12));
        prop_assert!(close(size.length.unwrap().as_mm(), length.as_mm(), 1e-12));
    }

    /// Metric sizes there and back.
    #[test]
    fn metric_sizes(d in 6u32..30, l in 20u32..500) {
        let size = parse_bolt_size(&format!("M{d}x{l}")).unwrap();
        prop_assert!(close(size.diameter.as_mm(), f64::from(d), 1e-12));
        prop_assert!(close(size.length.unwrap().as_mm(), f64::from(l), 1e-12));
        prop_assert_eq!(parse_bolt_size(&format!("{d} x {l} mm")).unwrap(), size);
    }
}
