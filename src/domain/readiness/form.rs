//! The form of the day: a shift of every chance on the logit scale, shared by the questions of one day and integrated
//! over by Gauss-Hermite quadrature.

use super::exam::Exam;

/// Nodes and weights for the standard normal distribution, the positive halves of 15 and of 31-point Gauss-Hermite.
/// Source: the zeros and weights of the Hermite polynomials as numpy 2.4.6 gives them (`polynomial.hermite.hermgauss`),
/// nodes times the root of 2, weights over the root of pi.
const COARSE: [(f64, f64); 8] = [
    (0.0, 0.318_259_518_259_518_2),
    (0.799_129_068_324_548_1, 0.232_462_293_609_732_3),
    (1.606_710_069_028_729_7, 0.089_417_795_399_844_39),
    (2.432_436_827_009_758, 0.017_365_774_492_137_616),
    (3.289_082_424_398_767, 0.001_567_357_503_549_955_8),
    (4.196_207_711_269_015_5, 5.642_146_405_189_015e-5),
    (5.190_093_591_304_782, 5.975_419_597_920_582e-7),
    (6.363_947_888_829_839_5, 8.589_649_899_633_293e-10),
];
const FINE: [(f64, f64); 16] = [
    (0.0, 0.223_294_138_742_406_75),
    (0.559_947_587_841_003, 0.191_132_004_774_643_12),
    (1.121_297_374_047_009_4, 0.119_683_109_695_854_69),
    (1.685_497_905_069_052_2, 0.054_567_258_894_475_015),
    (2.254_095_000_754_410_7, 0.017_967_875_843_441_64),
    (2.828_792_768_157_508, 0.004_221_717_767_270_715),
    (3.411_532_415_843_155_7, 6.960_312_713_792_918e-4),
    (4.004_600_901_491_224, 7.871_624_069_602_248e-5),
    (4.610_789_797_323_99, 5.923_202_317_686_341e-6),
    (5.233_641_511_712_708, 2.845_610_088_162_819_5e-7),
    (5.877_855_885_986_258, 8.243_931_619_119_744e-9),
    (6.550_014_268_765_683, 1.327_251_483_589_711_4e-10),
    (7.260_000_488_890_865, 1.049_603_362_311_360_2e-12),
    (8.024_193_227_361_646, 3.328_468_324_148_401_5e-15),
    (8.874_301_409_488_79, 2.883_352_367_857_821_6e-18),
    (9.893_385_708_986_653, 2.605_973_854_892_990_3e-22),
];

/// Nodes of the standard normal distribution with their weights, which add up to 1.
pub(super) fn normal_nodes() -> impl Iterator<Item = (f64, f64)> {
    both_halves(&COARSE)
}

fn both_halves(half: &'static [(f64, f64)]) -> impl Iterator<Item = (f64, f64)> {
    half.iter().skip(1).rev().map(|(x, w)| (-x, *w)).chain(half.iter().copied())
}

/// A chance shifted on the logit scale; certainties stay certain.
pub fn shifted(chance: f64, by: f64) -> f64 {
    if chance <= 0.0 || chance >= 1.0 || by == 0.0 {
        return chance.clamp(0.0, 1.0);
    }
    logistic(logit(chance) + by)
}

pub(super) fn logit(chance: f64) -> f64 {
    let chance = chance.clamp(1e-9, 1.0 - 1e-9);
    (chance / (1.0 - chance)).ln()
}

pub(super) fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + (-x).exp())
}

/// The chance of passing where the form of the day spreads by `spread` (a standard deviation on the logit scale), and a
/// miss of a safety-critical item fails the oral with the chance `fatal`, 0 to 1.
pub fn chance_in_form(exam: &Exam, spread: f64, fatal: f64) -> f64 {
    if spread.is_nan() || spread <= 0.0 {
        return exam.chance_with(fatal, |item| item.recall);
    }
    both_halves(&FINE)
        .map(|(x, weight)| weight * exam.chance_with(fatal, |item| shifted(item.recall, spread * x)))
        .sum()
}
