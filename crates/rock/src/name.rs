//! The words shown to people.

use crate::evidence::{FieldGrade, RockType, Soundness, Wetness};

impl RockType {
    /// Every rock type, in index order.
    pub const ALL: [RockType; 10] = [
        RockType::Granite,
        RockType::Gneiss,
        RockType::Basalt,
        RockType::Quartzite,
        RockType::Limestone,
        RockType::Dolomite,
        RockType::Sandstone,
        RockType::Schist,
        RockType::Conglomerate,
        RockType::Tuff,
    ];
    /// The name in plain English.
    pub const fn name(self) -> &'static str {
        match self {
            RockType::Granite => "granite",
            RockType::Gneiss => "gneiss",
            RockType::Basalt => "basalt",
            RockType::Quartzite => "quartzite",
            RockType::Limestone => "limestone",
            RockType::Dolomite => "dolomite",
            RockType::Sandstone => "sandstone",
            RockType::Schist => "schist",
            RockType::Conglomerate => "conglomerate",
            RockType::Tuff => "tuff",
        }
    }
}

impl FieldGrade {
    /// Every grade, weakest first.
    pub const ALL: [FieldGrade; 7] = [
        FieldGrade::R0,
        FieldGrade::R1,
        FieldGrade::R2,
        FieldGrade::R3,
        FieldGrade::R4,
        FieldGrade::R5,
        FieldGrade::R6,
    ];
    /// The grade's code.
    pub const fn name(self) -> &'static str {
        match self {
            FieldGrade::R0 => "R0",
            FieldGrade::R1 => "R1",
            FieldGrade::R2 => "R2",
            FieldGrade::R3 => "R3",
            FieldGrade::R4 => "R4",
            FieldGrade::R5 => "R5",
            FieldGrade::R6 => "R6",
        }
    }
    /// The field test that tells the grade, in our words after the ISRM table.
    pub const fn field_test(self) -> &'static str {
        match self {
            FieldGrade::R0 => "a thumbnail marks it",
            FieldGrade::R1 => "the pick's point crumbles it, a knife peels it",
            FieldGrade::R2 => "a knife peels it with effort, the pick's point leaves a dent",
            FieldGrade::R3 => "a knife does not scrape it, one firm hammer blow breaks a piece",
            FieldGrade::R4 => "a piece takes more than one hammer blow",
            FieldGrade::R5 => "a piece takes many hammer blows",
            FieldGrade::R6 => "the hammer only chips it",
        }
    }
}

impl Wetness {
    /// Every wetness, driest first.
    pub const ALL: [Wetness; 3] = [Wetness::Dry, Wetness::Damp, Wetness::Wet];
    /// The name in plain English.
    pub const fn name(self) -> &'static str {
        match self {
            Wetness::Dry => "dry",
            Wetness::Damp => "damp",
            Wetness::Wet => "wet",
        }
    }
}

impl Soundness {
    /// Every soundness, best first.
    pub const ALL: [Soundness; 4] =
        [Soundness::Massive, Soundness::Jointed, Soundness::CloseJoint, Soundness::Drummy];
    /// The name in plain English.
    pub const fn name(self) -> &'static str {
        match self {
            Soundness::Massive => "massive",
            Soundness::Jointed => "jointed",
            Soundness::CloseJoint => "joint close by",
            Soundness::Drummy => "hollow",
        }
    }
}
