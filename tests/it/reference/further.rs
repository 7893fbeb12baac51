//! Further published tables, each against R 4.2.2 (package stats) as it prints, or against
//! the formula of a source worked out in R.

use fairdraw::stats::control::{self, Period};
use fairdraw::stats::funnel::Limits;
use fairdraw::stats::trend::Group;
use fairdraw::stats::{difference, fisher, multiple, normal, stratified, trend};

#[track_caller]
fn close(found: f64, expected: f64, relative: f64) {
    let off = (found - expected).abs();
    assert!(
        off <= relative * expected.abs().max(1e-12),
        "{found} should be {expected}"
    );
}

fn z_95() -> f64 {
    normal::quantile(0.975)
}

/// Oesophageal cancer by alcohol, Breslow and Day 1980, R data set `esoph`: `prop.trend.test`.
#[test]
fn trend_of_cancer_with_alcohol() {
    let counts = [(29, 386), (75, 280), (51, 87), (45, 22)];
    let groups: Vec<Group> = (1..)
        .zip(counts)
        .map(|(score, (cases, controls))| Group {
            events: cases,
            trials: cases + controls,
            score: f64::from(score),
        })
        .collect();
    let found = trend::test(&groups).unwrap();
    close(found.z * found.z, 153.130_702_094_876, 1e-12);
    close(found.p, 3.586_808_849_296_48e-35, 1e-9);
    assert!(found.z > 0.0);
}

/// Survival of women against men by class, R data set `Titanic`: `mantelhaen.test`.
#[test]
fn survival_on_the_titanic_by_class() {
    let strata = [
        [[141, 4], [62, 118]],
        [[93, 13], [25, 154]],
        [[90, 106], [88, 422]],
        [[20, 3], [192, 670]],
    ];
    let found = stratified::test(&strata, z_95());
    close(found.chi2.unwrap(), 362.672_980_754_015, 1e-12);
    close(found.p.unwrap(), 7.371_501_942_368_19e-81, 1e-9);
    close(found.chi2_corrected.unwrap(), 360.331_151_972_575, 1e-12);
    let odds = found.odds.unwrap();
    close(odds.ratio, 10.806_530_475_986_3, 1e-12);
    close(odds.low, 8.232_628_842_115_15, 1e-9);
    close(odds.high, 14.185_153_147_073_8, 1e-9);
}

/// The crew of the Titanic alone: p by `fisher.test`; the odds by exact fractions, since its
/// root finder is loose (it prints 23.176, 6.7657, 122.63).
#[test]
fn survival_of_the_crew() {
    let found = fisher::test([[20, 3], [192, 670]], 0.95);
    close(found.p, 1.654_519_983_500_09e-10, 1e-9);
    close(found.p_greater, 1.654_519_983_500_08e-10, 1e-9);
    close(found.p_less, 0.999_999_999_993_339, 1e-12);
    let odds = found.odds.unwrap();
    close(odds.ratio, 23.165_144_765_844_9, 1e-10);
    close(odds.low, 6.765_686_430_629_1, 1e-9);
    close(odds.high, 123.010_009_168_705, 1e-9);
}

/// Three pairs with the counts of Newcombe's examples (Statistics in Medicine 17 (1998)
/// 873-890; counts from memory), by the formula of his method 10 worked out in R.
#[test]
fn newcombe_by_his_formula() {
    let cases = [
        (
            (56, 70),
            (48, 80),
            0.052_431_472_402_365,
            0.333_872_654_036_906,
        ),
        (
            (9, 10),
            (3, 10),
            0.170_522_723_934_503,
            0.809_017_973_535_488,
        ),
        ((10, 10), (0, 20), 0.679_086_037_141_915, 1.0),
    ];
    for (first, second, low, high) in cases {
        let found = difference::interval(first, second, z_95()).unwrap();
        close(found.low, low, 1e-12);
        close(found.high, high, 1e-12);
    }
}

/// Claims by district, Baxter, Coutts and Ross 1980, R package MASS 7.3-58.2 data set
/// `Insurance`: limits by `qbinom`, `pbinom` and `dbinom` after Spiegelhalter, Statistics in
/// Medicine 24 (2005) 1185-1202, appendix.
#[test]
fn funnel_of_insurance_claims() {
    let theta = 3151.0 / 23359.0;
    #[rustfmt::skip]
    let cases = [
        (theta, 10545, [0.124_665_998_672_029, 0.128_359_437_084_919, 0.141_399_759_288_158, 0.145_225_474_275_487]),
        (theta, 6653, [0.122_035_477_610_844, 0.126_662_272_388_190, 0.143_079_631_837_515, 0.147_915_950_510_222]),
        (theta, 4167, [0.118_672_169_837_439, 0.124_484_754_177_251, 0.145_229_586_009_664, 0.151_375_033_822_558]),
        (theta, 1994, [0.111_529_862_636_340, 0.119_825_829_639_097, 0.149_813_013_960_278, 0.158_800_993_829_404]),
        (0.2, 12, [-0.082_120_673_730_969_4, -0.053_016_843_274_235_7, 0.407_894_798_400_827, 0.572_828_337_801_026]),
    ];
    for (theta, trials, expected) in cases {
        let found = Limits::at(theta, trials).unwrap();
        let found = [found.low_998, found.low_95, found.high_95, found.high_998];
        for (found, expected) in found.into_iter().zip(expected) {
            close(found, expected, 1e-10);
        }
    }
}

/// The first district of `Insurance` in the order of its rows, Laney's formula in R.
#[test]
fn laneys_chart_of_insurance_claims() {
    let claims = [
        38, 35, 20, 156, 63, 84, 89, 400, 19, 52, 74, 233, 4, 18, 19, 77,
    ];
    #[rustfmt::skip]
    let holders = [197, 264, 246, 1680, 284, 536, 696, 3582, 133, 286, 355, 1640, 24, 71, 99, 452];
    let periods: Vec<Period> = claims
        .into_iter()
        .zip(holders)
        .map(|(events, trials)| Period { events, trials })
        .collect();
    let chart = control::p_prime_chart(&periods, None).unwrap();
    let points: Vec<_> = chart.points.iter().flatten().collect();
    close(points[0].high, 0.303_079_865_026_083, 1e-12);
    close(points[7].high, 0.171_326_607_376_062, 1e-12);
    close(points[7].low, 0.090_598_475_601_652_4, 1e-12);
    close(points[12].high, 0.624_081_927_521_066, 1e-12);
    assert_eq!((points[0].low, points[12].low), (0.0, 0.0));
}

/// `p.adjust(p, "BH")` with ties and a 1.
#[test]
fn adjusted_for_many() {
    #[rustfmt::skip]
    let p = [0.030_288_5, 0.002_035_35, 0.030_910_9, 0.008_477_14, 0.092_429_3, 3.0902e-05,
        0.311_804, 0.002_301_78, 0.157_358, 1.0, 0.092_429_3];
    #[rustfmt::skip]
    let q = [0.056_669_983_333_333_3, 0.008_439_86, 0.056_669_983_333_333_3, 0.023_312_135,
        0.127_090_287_5, 0.000_339_922, 0.342_984_4, 0.008_439_86, 0.192_326_444_444_444_5,
        1.0, 0.127_090_287_5];
    for (found, expected) in multiple::adjusted(&p).into_iter().zip(q) {
        close(found, expected, 1e-12);
    }
}
