//! All but the crossed model.

use fairdraw::stats::control::{Chart, Period, Side};
use fairdraw::stats::fisher::Table;
use fairdraw::stats::hypergeometric::Sampling;
use fairdraw::stats::kappa::Weights;
use fairdraw::stats::{
    beta_binomial, binomial, concentration, control, discovery, exact, fisher, funnel, incomplete,
    kappa, multiple, normal, stratified, trend, wilson,
};
use serde_json::Value;

use super::files::{cases, json, near, near_relative, number, numbers, table, whole, wholes};

#[test]
fn intervals_of_a_share() {
    for case in cases("intervals.json", None) {
        let (x, n, confidence) = (whole(&case["x"]), whole(&case["n"]), number(&case["conf"]));
        let what = format!("{x} of {n} at {confidence}");
        let z = normal::quantile(f64::midpoint(1.0, confidence));
        let (low, high) = wilson::interval(x, n, z).unwrap();
        near(low, &case["wilson"][0], 1e-12, &what);
        near(high, &case["wilson"][1], 1e-12, &what);
        let (low, high) = exact::interval(x, n, confidence).unwrap();
        near_relative(low, &case["clopper_pearson"][0], 1e-9, &what);
        near_relative(high, &case["clopper_pearson"][1], 1e-9, &what);
        let bound = exact::upper_bound(x, n, confidence).unwrap();
        near_relative(bound, &case["cp_upper_one_sided"], 1e-9, &what);
        let mirrored = exact::lower_bound(n - x, n, confidence).unwrap();
        assert!((1.0 - mirrored - bound).abs() < 1e-12, "{what}");
    }
}

#[test]
fn printed_intervals_of_newcombe() {
    for case in json("intervals.json")["published_check"]
        .as_array()
        .unwrap()
    {
        let (low, high) = exact::interval(whole(&case["x"]), whole(&case["n"]), 0.95).unwrap();
        near(low, &case["clopper_pearson"][0], 5e-5, "lower");
        near(high, &case["clopper_pearson"][1], 5e-5, "upper");
    }
}

#[test]
fn bounds_with_missing_outcomes() {
    for case in cases("bounds.json", None) {
        let count = |key: &str| whole(&case[key]);
        let found = incomplete::bounds(count("bad"), count("good"), count("no_evidence")).unwrap();
        let expected = &case["expected"];
        near(
            found.least,
            &expected["share_if_missing_all_pass"],
            1e-10,
            "least",
        );
        near(
            found.most,
            &expected["share_if_missing_all_fail"],
            1e-10,
            "most",
        );
        match found.complete {
            Some(share) => near(share, &expected["complete_case_share"], 1e-10, "complete"),
            None => assert!(expected["complete_case_share"].is_null()),
        }
        near(
            found.wilson.0,
            &expected["outer_wilson95"][0],
            1e-10,
            "Wilson low",
        );
        near(
            found.wilson.1,
            &expected["outer_wilson95"][1],
            1e-10,
            "Wilson high",
        );
        near(
            found.exact.0,
            &expected["outer_cp95"][0],
            1e-10,
            "exact low",
        );
        near(
            found.exact.1,
            &expected["outer_cp95"][1],
            1e-10,
            "exact high",
        );
    }
}

fn periods(pairs: Vec<(u64, u64)>) -> Vec<Period> {
    let period = |(events, trials)| Period { events, trials };
    pairs.into_iter().map(period).collect()
}

/// The periods a chart case names, by its id.
fn charted(id: &str) -> Option<Vec<Period>> {
    if id.ends_with("variable_n") {
        return Some(periods(
            table("pchart_variable_n.csv")?.pairs("nonconforming", "n"),
        ));
    }
    if id.ends_with("overdispersed") {
        let weeks = table("nhs_accidents.csv")?.pairs("seen_within_4h", "attendances");
        let late = weeks.into_iter().map(|(seen, all)| (all - seen, all));
        return Some(periods(late.collect()));
    }
    let data = table("pchart_constant_n.csv")?;
    let phase = if id.ends_with("phase2") {
        "later"
    } else {
        "trial"
    };
    let dropped: &[u64] = if id.ends_with("revised") {
        &[15, 23]
    } else {
        &[]
    };
    let rows = data.pairs("nonconforming", "n").into_iter();
    let rows = rows.zip(data.texts("phase")).zip(data.counts("sample"));
    let kept = rows.filter(|((_, p), sample)| *p == phase && !dropped.contains(sample));
    Some(periods(kept.map(|((pair, _), _)| pair).collect()))
}

fn outside(chart: &Chart, side: Side) -> Vec<u64> {
    let at = |(i, point): (usize, &Option<control::Point>)| {
        (point.unwrap().outside == Some(side)).then_some(i as u64 + 1)
    };
    chart.points.iter().enumerate().filter_map(at).collect()
}

fn check_limits(chart: &Chart, expected: &Value, id: &str) {
    for (i, point) in chart.points.iter().enumerate() {
        near(point.unwrap().low, &expected["lcl"][i], 1e-12, id);
        near(point.unwrap().high, &expected["ucl"][i], 1e-12, id);
    }
    assert_eq!(
        outside(chart, Side::Above),
        wholes(&expected["signals_above"]),
        "{id}"
    );
    assert_eq!(
        outside(chart, Side::Below),
        wholes(&expected["signals_below"]),
        "{id}"
    );
}

#[test]
fn p_charts() {
    for case in cases("charts.json", None) {
        let (id, expected) = (case["id"].as_str().unwrap(), &case["expected"]);
        let Some(periods) = charted(id) else { continue };
        if case["kind"] == "laney_p_prime" {
            continue;
        }
        let centre = case["centre"].as_array();
        let centre = centre.map(|pair| number(&pair[0]) / number(&pair[1]));
        let chart = control::p_chart(&periods, centre).unwrap();
        near(chart.centre, &expected["pbar"], 1e-12, id);
        for (i, point) in chart.points.iter().enumerate() {
            near(point.unwrap().share, &expected["p"][i], 1e-12, id);
            near(point.unwrap().sigma, &expected["sigma"][i], 1e-12, id);
            // z divides a rounding of the share by sigma, 4e-4 here
            near(point.unwrap().z, &expected["z"][i], 1e-11, id);
        }
        check_limits(&chart, expected, id);
        let dispersion = control::dispersion(&chart).unwrap();
        near_relative(dispersion.chi2, &expected["dispersion_chi2"], 1e-12, id);
        assert_eq!(dispersion.df, whole(&expected["dispersion_df"]));
        near(dispersion.p, &expected["dispersion_p_upper"], 1e-12, id);
    }
}

#[test]
fn laneys_charts() {
    for case in cases("charts.json", Some("laney_p_prime")) {
        let (id, expected) = (case["id"].as_str().unwrap(), &case["expected"]["d2_1.128"]);
        let Some(periods) = charted(id) else { continue };
        let chart = control::p_prime_chart(&periods, None).unwrap();
        near(
            chart.widened,
            &expected["sigma_z"],
            1e-12 * chart.widened.max(1.0),
            id,
        );
        let range = &case["expected"]["mean_moving_range_z"];
        near_relative(chart.widened * control::D2, range, 1e-12, id);
        check_limits(&chart, expected, id);
    }
}

#[test]
fn bare_funnel_limits() {
    let file = json("funnel.json");
    for row in file["grid"].as_array().unwrap() {
        let (theta, n) = (number(&row["theta"]), whole(&row["n"]));
        let what = format!("{n} trials around {theta}");
        let limits = funnel::Limits::at(theta, n).unwrap();
        near(limits.low_998, &row["lo998"], 1e-10, &what);
        near(limits.low_95, &row["lo95"], 1e-10, &what);
        near(limits.high_95, &row["hi95"], 1e-10, &what);
        near(limits.high_998, &row["hi998"], 1e-10, &what);
    }
}

fn side(value: &Value) -> Option<Side> {
    match value.as_str().unwrap() {
        "above" => Some(Side::Above),
        "below" => Some(Side::Below),
        _ => None,
    }
}

#[test]
fn published_funnels() {
    for case in cases("funnel.json", None) {
        let expected = &case["expected"];
        let theta = number(&expected["theta"]);
        let rows = expected["units"].as_array().unwrap();
        for row in rows {
            let (x, n) = (whole(&row["x"]), whole(&row["n"]));
            let limits = funnel::Limits::at(theta, n).unwrap();
            near(limits.low_998, &row["lo998"], 1e-10, "low 99.8");
            near(limits.low_95, &row["lo95"], 1e-10, "low 95");
            near(limits.high_95, &row["hi95"], 1e-10, "high 95");
            near(limits.high_998, &row["hi998"], 1e-10, "high 99.8");
            near(funnel::z(theta, (x, n)).unwrap(), &row["z"], 1e-10, "z");
            let share = x as f64 / n as f64;
            assert_eq!(limits.outside_95(share), side(&row["flag95"]));
            assert_eq!(limits.outside_998(share), side(&row["flag998"]));
            near_relative(
                binomial::at_least(x, n, theta),
                &row["p_upper"],
                1e-10,
                "above",
            );
            near_relative(
                binomial::at_most(x, n, theta),
                &row["p_lower"],
                1e-10,
                "below",
            );
        }
        let unit = |row: &Value| (whole(&row["x"]), whole(&row["n"]));
        let units: Vec<_> = rows.iter().map(unit).collect();
        near(
            funnel::phi(theta, &units, false).unwrap(),
            &expected["phi"],
            1e-10,
            "phi",
        );
        let winsorised = funnel::phi(theta, &units, true).unwrap();
        near(
            winsorised,
            &expected["phi_winsorised_10pct"],
            1e-10,
            "winsorised phi",
        );
    }
}

#[test]
fn adjusted_p_values() {
    for case in cases("multiplicity.json", None) {
        let adjusted = multiple::adjusted(&numbers(&case["p"]));
        for (i, q) in adjusted.iter().enumerate() {
            near(*q, &case["expected"]["bh_adjusted"][i], 1e-14, "adjusted");
        }
        let listed: Vec<u64> = (1..)
            .zip(&adjusted)
            .filter(|(_, q)| **q <= 0.05)
            .map(|(i, _)| i)
            .collect();
        assert_eq!(listed, wholes(&case["expected"]["rejected_bh_q05"]));
    }
}

fn two_by_two(value: &Value) -> Table {
    let rows = value.as_array().unwrap();
    [0, 1].map(|i| [0, 1].map(|j| whole(&rows[i][j])))
}

#[test]
fn fishers_exact_test() {
    for case in cases("tables.json", Some("fisher_exact")) {
        let (id, expected) = (case["id"].as_str().unwrap(), &case["expected"]);
        let found = fisher::test(two_by_two(&case["table"]), 0.95);
        near(found.p, &expected["p_two_sided"], 1e-12, id);
        near_relative(found.p, &expected["p_two_sided"], 1e-10, id);
        near(found.p_greater, &expected["p_greater"], 1e-12, id);
        near(found.p_less, &expected["p_less"], 1e-12, id);
        match found.odds {
            Some(odds) => {
                near_relative(odds.ratio, &expected["cond_mle_odds_ratio"], 1e-8, id);
                near_relative(odds.low, &expected["or_lo"], 1e-8, id);
                near_relative(odds.high, &expected["or_hi"], 1e-8, id);
            }
            None => assert!(expected.get("cond_mle_odds_ratio").is_none(), "{id}"),
        }
    }
}

#[test]
fn stratified_tables() {
    for case in cases("tables.json", Some("cmh")) {
        let (id, expected) = (case["id"].as_str().unwrap(), &case["expected"]);
        let strata: Vec<Table> = case["tables"]
            .as_array()
            .unwrap()
            .iter()
            .map(two_by_two)
            .collect();
        let found = stratified::test(&strata, wilson::Z_95);
        near_relative(
            found.chi2.unwrap(),
            &expected["chi2_no_correction"],
            1e-12,
            id,
        );
        near(found.p.unwrap(), &expected["p_no_correction"], 1e-12, id);
        near_relative(
            found.chi2_corrected.unwrap(),
            &expected["chi2_continuity"],
            1e-12,
            id,
        );
        near(
            found.p_corrected.unwrap(),
            &expected["p_continuity"],
            1e-12,
            id,
        );
        let odds = found.odds.unwrap();
        near_relative(odds.ratio, &expected["mh_odds_ratio"], 1e-8, id);
        near_relative(
            found.se_log_odds.unwrap(),
            &expected["se_log_or_rbg"],
            1e-8,
            id,
        );
        near_relative(odds.low, &expected["or_lo"], 1e-8, id);
        near_relative(odds.high, &expected["or_hi"], 1e-8, id);
    }
}

#[test]
fn trends() {
    for case in cases("tables.json", Some("cochran_armitage")) {
        let (id, expected) = (case["id"].as_str().unwrap(), &case["expected"]);
        let (x, n) = (wholes(&case["x"]), wholes(&case["n"]));
        let groups: Vec<trend::Group> = numbers(&case["scores"])
            .into_iter()
            .enumerate()
            .map(|(i, score)| trend::Group {
                events: x[i],
                trials: n[i],
                score,
            })
            .collect();
        let found = trend::test(&groups).unwrap();
        near_relative(found.z * found.z, &expected["chi2"], 1e-12, id);
        near(found.z, &expected["z"], 1e-11, id);
        near(found.p, &expected["p_two_sided"], 1e-12, id);
        near(found.slope, &expected["slope"], 1e-12, id);
        near_relative(found.homogeneity, &expected["homogeneity_chi2"], 1e-12, id);
        near(found.homogeneity_p, &expected["homogeneity_p"], 1e-12, id);
        near_relative(found.departure, &expected["departure_chi2"], 1e-11, id);
        near(
            found.departure_p.unwrap(),
            &expected["departure_p"],
            1e-12,
            id,
        );
    }
}

#[test]
fn discovery_samples() {
    let file = json("discovery.json");
    let sampling = |row: &Value, sampled: u64| Sampling {
        all: whole(&row["N"]),
        marked: whole(&row["D"]),
        sampled,
    };
    for row in file["probabilities"].as_array().unwrap() {
        let found = sampling(row, whole(&row["n"])).at_most(whole(&row["k"]));
        near_relative(found, &row["p_le"], 1e-10, &row.to_string());
    }
    for row in file["min_sample"].as_array().unwrap() {
        let (allowed, size) = (whole(&row["allowed"]), whole(&row["n"]));
        let found = discovery::sample_size(
            whole(&row["N"]),
            whole(&row["D"]),
            allowed,
            number(&row["conf"]),
        );
        assert_eq!(found, Some(size), "{row}");
        let at = sampling(row, size).at_most(allowed);
        near_relative(at, &row["prob_at_n"], 1e-10, &row.to_string());
        let before = sampling(row, size - 1).at_most(allowed);
        near_relative(before, &row["prob_at_n_minus_1"], 1e-10, &row.to_string());
    }
    for row in file["bounds"].as_array().unwrap() {
        let found = discovery::bad_in_all(
            whole(&row["N"]),
            whole(&row["n"]),
            whole(&row["x"]),
            number(&row["conf"]),
        );
        let expected = (whole(&row["lower_D"]), whole(&row["upper_D"]));
        assert_eq!(found, Some(expected), "{row}");
    }
}

#[test]
fn agreement_of_judges() {
    for case in cases("agreement.json", None) {
        let rows: Vec<Vec<u64>> = case["table"]
            .as_array()
            .unwrap()
            .iter()
            .map(wholes)
            .collect();
        for (name, weights) in [
            ("unweighted", Weights::Equal),
            ("linear", Weights::Linear),
            ("quadratic", Weights::Quadratic),
        ] {
            let Some(expected) = case["expected"].get(name) else {
                continue;
            };
            let found = kappa::kappa(&rows, weights).unwrap();
            let beyond = found.beyond.unwrap();
            assert_eq!(found.n, whole(&expected["n"]));
            near(found.observed, &expected["observed_agreement"], 1e-12, name);
            near(found.chance, &expected["chance_agreement"], 1e-12, name);
            near(beyond.kappa, &expected["kappa"], 1e-12, name);
            near(beyond.se, &expected["ase"], 1e-12, name);
            near(beyond.se_by_chance, &expected["ase_null"], 1e-12, name);
            let (low, high) = beyond.interval(wilson::Z_95);
            near(low, &expected["lo"], 1e-12, name);
            near(high, &expected["hi"], 1e-12, name);
        }
        if let Some(extras) = case["expected"].get("extras") {
            let on = |category| kappa::agreement_on(&rows, category).unwrap();
            near(on(0), &extras["positive_agreement"], 1e-12, "positive");
            near(on(1), &extras["negative_agreement"], 1e-12, "negative");
        }
    }
}

#[test]
fn concentration_of_counts() {
    for case in cases("concentration.json", None) {
        let (id, expected) = (case["id"].as_str().unwrap(), &case["expected"]);
        let counts = match (id, case["values"].as_array()) {
            (_, Some(_)) => wholes(&case["values"]),
            ("rivers", None) => table("rivers.csv").unwrap().counts("miles"),
            _ => panic!("{id} has no values"),
        };
        assert_eq!(
            counts.iter().sum::<u64>(),
            whole(&expected["total"]),
            "{id}"
        );
        near(
            concentration::gini(&counts).unwrap(),
            &expected["gini"],
            1e-12,
            id,
        );
        for (i, share) in concentration::pareto(&counts).iter().enumerate() {
            near(
                *share,
                &expected["cumulative_share_largest_first"][i],
                1e-12,
                id,
            );
        }
        let holding = concentration::holding(&counts, 80).unwrap() as u64;
        assert_eq!(holding, whole(&expected["units_for_80pct"]), "{id}");
    }
}

/// Adds the binomial coefficients, which the fit leaves out.
fn log_coefficients(units: &[(u64, u64)]) -> f64 {
    let choose =
        |x: u64, n: u64| -> f64 { (0..x).map(|j| ((n - j) as f64 / (j + 1) as f64).ln()).sum() };
    units.iter().map(|&(x, n)| choose(x, n)).sum()
}

#[test]
fn beta_binomial_shares() {
    for case in cases("betabinomial.json", None) {
        let (id, expected) = (case["id"].as_str().unwrap(), &case["expected"]);
        let units = match id {
            "rat_tumors" => table("rat_tumors.csv").unwrap().pairs("tumors", "rats"),
            "surgical" => table("surgical.csv").unwrap().pairs("deaths", "operations"),
            _ => charted("phase2")
                .unwrap()
                .iter()
                .map(|p| (p.events, p.trials))
                .collect(),
        };
        let slope = beta_binomial::slope_at_no_spread(&units).unwrap();
        near_relative(slope, &expected["score_rho_at_0"], 1e-10, id);
        let z = beta_binomial::tarone_z(&units).unwrap();
        near_relative(z, &expected["tarone_z"], 1e-10, id);
        near_relative(
            normal::at_least(z),
            &expected["tarone_p_one_sided"],
            1e-9,
            id,
        );
        let spread = match beta_binomial::fit(&units).unwrap() {
            beta_binomial::Fit::Spread(spread) => spread,
            beta_binomial::Fit::Alike { pooled } => {
                assert_eq!(expected["mle"], "boundary", "{id}");
                near(pooled, &expected["mean"], 1e-12, id);
                continue;
            }
            beta_binomial::Fit::AllOrNothing { .. } => panic!("{id}"),
        };
        assert_eq!(expected["mle"], "interior", "{id}");
        near_relative(spread.alpha, &expected["alpha"], 1e-6, id);
        near_relative(spread.beta, &expected["beta"], 1e-6, id);
        near_relative(spread.mean(), &expected["mean"], 1e-6, id);
        near_relative(spread.correlation(), &expected["rho"], 1e-6, id);
        near_relative(spread.se_log_alpha, &expected["se_log_alpha"], 1e-6, id);
        near_relative(spread.se_log_beta, &expected["se_log_beta"], 1e-6, id);
        near_relative(
            spread.covariance,
            &expected["cov_log_alpha_log_beta"],
            1e-6,
            id,
        );
        near(spread.log_likelihood, &expected["loglik_no_coef"], 1e-8, id);
        let with_coefficients = spread.log_likelihood + log_coefficients(&units);
        near(with_coefficients, &expected["loglik"], 1e-8, id);
        for (unit, row) in units.iter().zip(expected["units"].as_array().unwrap()) {
            let shrunken = spread.shrunken(*unit, 0.95);
            near(shrunken.share, &row["post_mean"], 1e-8, id);
            near(shrunken.own_weight, &row["weight_on_own_data"], 1e-8, id);
            near(shrunken.low, &row["q_lo"], 1e-7, id);
            near(shrunken.high, &row["q_hi"], 1e-7, id);
            near(shrunken.above, &row["prob_above"], 1e-7, id);
        }
    }
}

/// The table of sample sizes in `docs/statistics.md`.
#[test]
fn the_printed_table_of_sample_sizes_is_right() {
    let page = include_str!("../../../docs/statistics.md");
    let plain = |cell: &str| -> u64 {
        let number = cell.split('(').next().unwrap().replace(',', "");
        number.trim().parse().unwrap()
    };
    let rows = page
        .lines()
        .skip_while(|line| !line.starts_with("| all |"))
        .skip(2);
    let mut checked = 0;
    for row in rows.take_while(|line| line.starts_with('|')) {
        let cells: Vec<u64> = row.trim_matches('|').split('|').map(plain).collect();
        for (confidence, size) in [0.90, 0.95, 0.99].into_iter().zip(&cells[2..]) {
            let found = discovery::sample_size(cells[0], cells[1], 0, confidence);
            assert_eq!(found, Some(*size), "{row}");
            checked += 1;
        }
    }
    assert_eq!(checked, 12);
}
