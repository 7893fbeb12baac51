//! The crossed model against lme4 and glmmTMB.

use fairdraw::stats::crossed::{self, Cell, Data, Fit, Side};
use serde_json::Value;

use super::files::{Table, cases, near, near_relative, number, table};

/// A case ready to fit: names of the factors, their levels, and of the columns.
pub(super) struct Case {
    pub json: Value,
    pub data: Data,
    /// One or two factors.
    pub factors: Vec<&'static str>,
    pub levels: [Vec<String>; 2],
    pub columns: Vec<&'static str>,
}

/// Numbers names in the order they first appear.
fn numbered(texts: &[&str]) -> (Vec<u32>, Vec<String>) {
    let mut names: Vec<String> = Vec::new();
    let mut number = |text: &&str| {
        let found = names.iter().position(|name| name == text);
        found.unwrap_or_else(|| {
            names.push((*text).to_owned());
            names.len() - 1
        }) as u32
    };
    let numbers = texts.iter().map(&mut number).collect();
    (numbers, names)
}

/// 0/1 columns: whether a text is one of the names.
pub(super) fn indicators(texts: &[&str], names: &[&str]) -> Vec<Vec<f64>> {
    let row = |text: &&str| {
        names
            .iter()
            .map(|name| f64::from(u8::from(text == name)))
            .collect()
    };
    texts.iter().map(row).collect()
}

pub(super) fn case(
    json: Value,
    factors: &[&'static str],
    texts: [Vec<&str>; 2],
    columns: &[&'static str],
    patterns: Vec<Vec<f64>>,
    counts: Vec<(u64, u64)>,
) -> Case {
    let [first, second] = texts.map(|texts| numbered(&texts));
    let cells = counts
        .into_iter()
        .enumerate()
        .map(|(i, (events, trials))| Cell {
            levels: [first.0[i], second.0[i]],
            pattern: i as u32,
            events,
            trials,
        });
    let sizes = [first.1.len(), second.1.len()];
    Case {
        json,
        data: Data::new(sizes, &patterns, cells).unwrap(),
        factors: factors.to_vec(),
        levels: [first.1, second.1],
        columns: columns.to_vec(),
    }
}

/// Reads a case by its id; `None` if its data are not at hand.
fn load(json: Value) -> Option<Case> {
    let id = json["id"].as_str().unwrap().to_owned();
    let data = table(json["data"].as_str().unwrap().split(' ').next().unwrap())?;
    let none = || vec![vec![]; data.rows.len()];
    let one_by_one = |name: &str| data.counts(name).into_iter().map(|y| (y, 1)).collect();
    Some(match id.as_str() {
        "toy_crossed" | "flat_technicians" => {
            let texts = [data.texts("technician"), data.texts("point")];
            let counts = data.pairs("bad", "n");
            case(json, &["technician", "point"], texts, &[], none(), counts)
        }
        "cbpp_intercept" | "cbpp_period" => {
            let columns: &[_] = match id.as_str() {
                "cbpp_period" => &["period2", "period3", "period4"],
                _ => &[],
            };
            let names: Vec<&str> = columns.iter().map(|c| &c["period".len()..]).collect();
            let patterns = indicators(&data.texts("period"), &names);
            let texts = [data.texts("herd"), vec![""; data.rows.len()]];
            let counts = data.pairs("incidence", "size");
            case(json, &["herd"], texts, columns, patterns, counts)
        }
        "salamander_intercept" | "salamander_cross" => {
            let columns: &[_] = match id.as_str() {
                "salamander_cross" => &["crossRW", "crossWR", "crossWW"],
                _ => &[],
            };
            let names: Vec<&str> = columns.iter().map(|c| &c["cross".len()..]).collect();
            let patterns = indicators(&data.texts("cross"), &names);
            let texts = [data.texts("female"), data.texts("male")];
            case(
                json,
                &["female", "male"],
                texts,
                columns,
                patterns,
                one_by_one("mate"),
            )
        }
        "contraception" => {
            let urban = indicators(&data.texts("urban"), &["Y"]);
            let children = indicators(&data.texts("livch"), &["1", "2", "3+"]);
            let age = data
                .texts("age")
                .into_iter()
                .map(|a| vec![a.parse().unwrap()]);
            let patterns = urban.into_iter().zip(age).zip(children);
            let patterns = patterns.map(|((u, a), c)| [u, a, c].concat()).collect();
            let texts = [data.texts("district"), vec![""; data.rows.len()]];
            let columns = ["urbanY", "age", "livch1", "livch2", "livch3+"];
            case(
                json,
                &["district"],
                texts,
                &columns,
                patterns,
                one_by_one("use"),
            )
        }
        "mathexam_crossed" => exam(json, &data),
        _ => panic!("no such case: {id}"),
    })
}

fn exam(json: Value, data: &Table) -> Case {
    let items = &data.header[1..];
    let long = || {
        data.rows
            .iter()
            .flat_map(|row| items.iter().enumerate().map(move |i| (row, i)))
    };
    let students = long().map(|(row, _)| row[0].as_str()).collect();
    let names = long().map(|(_, (_, item))| item.as_str()).collect();
    let solved = long().map(|(row, (i, _))| (row[i + 1].parse().unwrap(), 1));
    let patterns = vec![vec![]; long().count()];
    case(
        json,
        &["student", "item"],
        [students, names],
        &[],
        patterns,
        solved.collect(),
    )
}

fn every_case(check: impl Fn(&Case, &Value, &str)) {
    let mut checked = 0;
    for json in cases("mixed_logit.json", None) {
        if let Some(case) = load(json) {
            let id = case.json["id"].as_str().unwrap();
            check(&case, &case.json["expected"], id);
            checked += 1;
        }
    }
    assert!(checked >= 6, "{checked}");
}

#[test]
fn deviance_at_fixed_points() {
    every_case(|case, expected, id| {
        for point in expected["deviance_at_fixed_points"].as_array().unwrap() {
            let mut sigma = [0.0; 2];
            for (i, name) in case.factors.iter().enumerate() {
                sigma[i] = number(&point["sigma"][name]);
            }
            let mut beta = vec![number(&point["beta"]["(Intercept)"])];
            beta.extend(case.columns.iter().map(|name| number(&point["beta"][name])));
            let found = crossed::deviance_at(&case.data, sigma, &beta).unwrap();
            let constant = 2.0 * case.data.log_coefficients();
            near(found.total() - constant, &point["deviance"], 1e-8, id);
            near(
                found.conditional - constant,
                &point["minus2_cond_loglik"],
                1e-6,
                id,
            );
            near(found.penalty, &point["penalty_u2"], 1e-6, id);
            near(found.log_determinant, &point["logdet"], 1e-6, id);
        }
    });
}

fn check_fit(case: &Case, fit: &Fit, expected: &Value, id: &str) {
    let constant = 2.0 * fit.log_coefficients;
    near(
        fit.deviance.total() - constant,
        &expected["deviance_minus2loglik"],
        1e-7,
        id,
    );
    near(
        fit.deviance.penalty,
        &expected["parts"]["penalty_u2"],
        1e-3,
        id,
    );
    let columns = std::iter::once(&"(Intercept)").chain(&case.columns);
    for (name, coefficient) in columns.zip(&fit.coefficients) {
        near(coefficient.value, &expected["beta"][name], 1e-6, name);
        near_relative(
            coefficient.se,
            &expected["se_beta_hessian"][name],
            1e-4,
            name,
        );
    }
    assert_eq!(fit.coefficients.len(), case.columns.len() + 1);
    for (i, name) in case.factors.iter().enumerate() {
        let factor = &fit.factors[i];
        near(factor.sigma, &expected["sigma"][name], 1e-6, name);
        match factor.sigma_se {
            Some(se) => near_relative(se, &expected["se_sigma_hessian"][name], 1e-4, name),
            None => assert!(expected["se_sigma_hessian"][name].is_null(), "{name}"),
        }
        near(
            factor.median_odds_ratio,
            &expected["median_odds_ratio"][name],
            1e-5,
            name,
        );
        near(
            factor.variance_share,
            &expected["latent_variance_share"][name],
            1e-6,
            name,
        );
        let modes = expected["conditional_modes"][name].as_object().unwrap();
        assert_eq!(modes.len(), factor.levels.len(), "{id}");
        for (label, level) in case.levels[i].iter().zip(&factor.levels) {
            near(level.effect, &modes[label][0], 1e-6, label);
            near(level.effect_se, &modes[label][1], 1e-6, label);
        }
        let reduced = &expected["deviance_reduced_models"];
        let without = match case.factors.len() {
            1 => &reduced["none"],
            _ => &reduced[&format!("without_{name}")],
        };
        let gained = number(without) - number(&expected["deviance_minus2loglik"]);
        assert!(
            (factor.gained - gained).abs() < 1e-6,
            "{name}: {}",
            factor.gained
        );
    }
    near(
        fit.deviance_fixed_only - constant,
        &expected["deviance_reduced_models"]["none"],
        1e-7,
        id,
    );
    assert!(fit.left < 1e-10, "{id}: {}", fit.left);
}

#[test]
fn fits_of_published_data() {
    every_case(|case, expected, id| {
        let fit = crossed::fit(&case.data).unwrap_or_else(|error| panic!("{id}: {error}"));
        check_fit(case, &fit, expected, id);
    });
}

#[test]
fn a_spread_of_nothing_is_exactly_nothing() {
    let json = cases("mixed_logit.json", None)
        .into_iter()
        .find(|case| case["id"] == "flat_technicians")
        .unwrap();
    let fit = crossed::fit(&load(json).unwrap().data).unwrap();
    let technicians = &fit.factors[Side::First.index()];
    assert_eq!((technicians.sigma, technicians.sigma_se), (0.0, None));
    assert_eq!((technicians.gained, technicians.p), (0.0, 1.0));
    assert_eq!(
        (technicians.median_odds_ratio, technicians.variance_share),
        (1.0, 0.0)
    );
    for level in &technicians.levels {
        assert_eq!((level.effect, level.effect_se), (0.0, 0.0));
        assert_eq!((level.p, level.q), (Some(1.0), Some(1.0)));
    }
    assert!(fit.factors[Side::Second.index()].p < 1e-7);
}
