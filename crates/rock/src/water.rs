//! How water weakens rock.

use crate::evidence::Wetness;
use crate::table::{Prior, Table};

/// Median factor on the UCS and standard deviation of its logarithm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WetFactor {
    /// Median in (0, 1].
    pub factor: f64,
    /// Standard deviation of ln(factor).
    pub sd_ln: f64,
}

/// Factor on the dry UCS for the wetness in use.
///
/// Saturated: the type's factor, or that of soft rock (0.4) where the dry UCS (MPa) is below 12 MPa,
/// with a passage between 12 and 35 MPa linear in ln(UCS). Damp: the factor to the power 0.7. Wetness
/// not known: to the power 0.5, and the other half of the loss becomes scatter. Dry: 1, exact.
/// Source: judgement on Hawkins & McConnell 1992 and two other studies of sandstone; see the data file.
pub(crate) fn wet_factor(
    table: &Table,
    prior: &Prior,
    dry_ln_mpa: f64,
    wetness: Option<Wetness>,
) -> WetFactor {
    if wetness == Some(Wetness::Dry) {
        return WetFactor { factor: 1.0, sd_ln: 0.0 };
    }
    let w = &table.water;
    let (low, high) = (w.soft_low_mpa.ln(), w.soft_high_mpa.ln());
    let hard = ((dry_ln_mpa - low) / (high - low)).clamp(0.0, 1.0);
    let own = prior.entry.wet_factor.ln();
    let soft = w.soft_factor.ln().min(own);
    let loss = soft + hard * (own - soft);
    let sd = w.soft_sd_ln + hard * (prior.entry.wet_sd_ln - w.soft_sd_ln);
    let (share, doubt) = match wetness {
        Some(Wetness::Dry) => (0.0, 0.0),
        Some(Wetness::Damp) => (w.damp_share, 0.0),
        Some(Wetness::Wet) => (1.0, 0.0),
        None => (w.unknown_share, w.unknown_sd_share),
    };
    WetFactor { factor: (loss * share).exp(), sd_ln: (sd * share).hypot(loss * doubt) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::RockType;

    fn factor(t: RockType, ucs: f64, w: Option<Wetness>) -> WetFactor {
        let table = Table::built_in();
        wet_factor(table, table.prior(Some(t)), ucs.ln(), w)
    }

    #[test]
    fn saturated_loss_lies_in_the_published_range() {
        // Hawkins & McConnell 1992: sandstones lose 8 to 78 % when saturated
        for ucs in [5.0, 20.0, 60.0, 120.0] {
            let f = factor(RockType::Sandstone, ucs, Some(Wetness::Wet)).factor;
            assert!((0.22..=0.92).contains(&f), "{ucs} MPa: {f}");
        }
        assert!((factor(RockType::Sandstone, 60.0, Some(Wetness::Wet)).factor - 0.65).abs() < 1e-12);
        assert!((factor(RockType::Sandstone, 8.0, Some(Wetness::Wet)).factor - 0.40).abs() < 1e-12);
        assert_eq!(factor(RockType::Granite, 150.0, Some(Wetness::Dry)).factor, 1.0);
    }

    #[test]
    fn unknown_wetness_is_wider_than_either_end() {
        for t in RockType::ALL {
            let [dry, unknown, wet] =
                [Some(Wetness::Dry), None, Some(Wetness::Wet)].map(|w| factor(t, 20.0, w));
            assert!(wet.factor < unknown.factor && unknown.factor < dry.factor, "{t:?}");
            assert!(unknown.sd_ln > dry.sd_ln, "{t:?}");
        }
    }
}
