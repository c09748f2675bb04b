//! Where orals for a certificate are ruled: the regulation, and the notices of three administrations. They change;
//! a candidate reads the current one.

use crate::domain::certificate::Certificate;

/// Where orals for a certificate are ruled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ruling {
    /// Who rules: the Convention, or an administration.
    pub who: &'static str,
    /// The paper, with what it says in short.
    pub what: &'static str,
}

/// The regulation and the notices for a certificate.
pub fn notices(certificate: Certificate) -> Vec<Ruling> {
    let regulation = match certificate {
        Certificate::Watch => "STCW III/1: officer in charge of an engineering watch, 750 kW propulsion power or more",
        Certificate::Second => "STCW III/2: second engineer officer, 3,000 kW or more; III/3 from 750 to 3,000 kW",
        Certificate::Chief => "STCW III/2: chief engineer officer, 3,000 kW or more; III/3 from 750 to 3,000 kW",
        Certificate::ElectroTechnical => "STCW III/6: electro-technical officer",
    };
    let united_kingdom = match certificate {
        Certificate::ElectroTechnical => "MIN 690 for how an oral is booked and held",
        _ => "MSN 1857 for the grades and their functions, MIN 690 for how an oral is booked and held",
    };
    let india = match certificate {
        Certificate::Watch => "MEO Class IV; each function is examined by itself, written and oral",
        Certificate::Second => "MEO Class II; each function is examined by itself, written and oral",
        Certificate::Chief => "MEO Class I; each function is examined by itself, written and oral",
        Certificate::ElectroTechnical => "Ask the Directorate General of Shipping for its current notice",
    };
    let united_states = match certificate {
        Certificate::Watch => {
            "46 CFR 11.329; modules of multiple choice and assessments that a qualified assessor signs"
        }
        Certificate::Second => "46 CFR 11.333 for the smaller plants; modules and signed assessments",
        Certificate::Chief => "46 CFR 11.325; modules and signed assessments",
        Certificate::ElectroTechnical => "46 CFR part 11; modules and signed assessments",
    };
    let ruling = |who, what| Ruling { who, what };
    vec![
        ruling("Regulation", regulation),
        ruling("United Kingdom", united_kingdom),
        ruling("India", india),
        ruling("United States", united_states),
    ]
}
