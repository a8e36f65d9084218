//! All that is known of one placement at a date.

use decay::Environment;
use demand::Position;
use evidence::Seen;
use hardware::Fitting;
use rock::{RockEvidence, Surroundings};
use smallvec::SmallVec;
use units::{Force, Length};

/// A pull test of this placement that stopped at a proof load which held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProofHeld {
    /// The load that held.
    pub load: Force,
    /// Years between the test and the date of the judgement, >= 0.
    pub years_ago: f64,
    /// True where the load was straight out of the rock, false where it was along the face.
    pub axial: bool,
}

/// All that is known of one placement at a date. `None` and empty lists mean not known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Case {
    /// The hardware.
    pub fitting: Fitting,
    /// Years since it was placed, >= 0.
    pub age_years: Option<f64>,
    /// True where its batch (hardware or resin) was recalled.
    pub recalled: bool,
    /// The rock.
    pub rock: RockEvidence,
    /// Edges and neighbours.
    pub surroundings: Surroundings,
    /// How far the hanger sits proud of the rock, where measured.
    pub proud: Option<Length>,
    /// Loss of steel per side measured with a calliper, and how many years ago, >= 0.
    pub measured_loss: Option<(Length, f64)>,
    /// Air, water and shelter.
    pub environment: Environment,
    /// Place on the route and use of the route.
    pub position: Position,
    /// Newest finding of every sign that was looked for.
    pub signs: SmallVec<[Seen; 8]>,
    /// Years since the last sighting, >= 0.
    pub last_seen_years_ago: Option<f64>,
    /// Years since this fitting gave way in a pull test, >= 0, where it did and is still there.
    pub gave_way_years_ago: Option<f64>,
    /// Proof loads that held.
    pub proofs: SmallVec<[ProofHeld; 1]>,
    /// Ratio of observed to judged resistance in pulls of sister fittings (same crag, rock and kind),
    /// as a median with the logarithmic standard deviation of that median; `None` without such pulls.
    pub sisters: Option<(f64, f64)>,
}
