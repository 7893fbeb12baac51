//! The crossed model against `glmer` of lme4 and glmmTMB on more published data: crossed,
//! nested without overlap, few trials a level, a spread of nothing. Sources and programs
//! stand in `glmer.json`.

use fairdraw::stats::crossed;
use serde_json::Value;

use super::crossed::{Case, case, indicators};
use super::files::{Table, cases, near, near_relative, number, table};

fn events(data: &Table, column: &str, more_than: u64) -> Vec<(u64, u64)> {
    let event = |count: u64| (u64::from(count > more_than), 1);
    data.counts(column).into_iter().map(event).collect()
}

fn load(json: Value) -> Case {
    let data = table(json["data"].as_str().unwrap()).unwrap();
    let none = || vec![vec![]; data.rows.len()];
    let id = json["id"].as_str().unwrap().to_owned();
    match id.as_str() {
        "bacteria" | "bacteria_intercept" => {
            let texts = [data.texts("id"), data.texts("week")];
            let counts = events(&data, "absent", 0);
            let (columns, patterns): (&[_], _) = match id.as_str() {
                "bacteria" => (
                    &["trtdrug", "trtdrug+"],
                    indicators(&data.texts("trt"), &["drug", "drug+"]),
                ),
                _ => (&[], none()),
            };
            case(json, &["id", "week"], texts, columns, patterns, counts)
        }
        "epil" => {
            let texts = [data.texts("subject"), data.texts("period")];
            let counts = events(&data, "seizures", 4);
            case(json, &["subject", "period"], texts, &[], none(), counts)
        }
        "grouseticks" => {
            let texts = [data.texts("brood"), data.texts("location")];
            let patterns = indicators(&data.texts("year"), &["96", "97"]);
            let counts = events(&data, "ticks", 3);
            let columns = ["year96", "year97"];
            let factors = ["brood", "location"];
            case(json, &factors, texts, &columns, patterns, counts)
        }
        "verbagg" => answers(json, &data, &[], |_| vec![]),
        "verbagg_type" => {
            // items are named by situation (1 and 2 of others, 3 and 4 of oneself), mode
            // and behaviour
            let columns = ["btypescold", "btypeshout", "situself"];
            answers(json, &data, &columns, |item| {
                let self_to_blame = item.starts_with("S3") || item.starts_with("S4");
                [
                    item.ends_with("Scold"),
                    item.ends_with("Shout"),
                    self_to_blame,
                ]
                .map(|is| f64::from(u8::from(is)))
                .to_vec()
            })
        }
        _ => panic!("no such case: {id}"),
    }
}

/// A row a person, a column an item, turned long.
fn answers(
    json: Value,
    data: &Table,
    columns: &[&'static str],
    pattern: impl Fn(&str) -> Vec<f64>,
) -> Case {
    let mut texts = [Vec::new(), Vec::new()];
    let (mut patterns, mut counts) = (Vec::new(), Vec::new());
    for row in &data.rows {
        for (item, answer) in data.header.iter().zip(row).skip(1) {
            texts[0].push(row[0].as_str());
            texts[1].push(item.as_str());
            patterns.push(pattern(item));
            counts.push((answer.parse().unwrap(), 1));
        }
    }
    case(json, &["id", "item"], texts, columns, patterns, counts)
}

#[test]
fn fits_of_more_published_data() {
    let all = cases("glmer.json", None);
    assert_eq!(all.len(), 6);
    for case in all.into_iter().map(load) {
        let id = case.json["id"].as_str().unwrap();
        let expected = &case.json["expected"];
        let fit = crossed::fit(&case.data).unwrap_or_else(|error| panic!("{id}: {error}"));
        let deviance = fit.deviance.total();
        near(deviance, &expected["deviance"], 5e-6, id);
        near(deviance, &case.json["glmmTMB"]["deviance"], 5e-7, id);
        // its own settings stop glmer early, never below the minimum
        let early = number(&case.json["glmer_default"]["deviance"]) - deviance;
        assert!((-1e-6..2e-3).contains(&early), "{id}: {early}");
        let columns = std::iter::once(&"(Intercept)").chain(&case.columns);
        assert_eq!(fit.coefficients.len(), case.columns.len() + 1);
        for (name, coefficient) in columns.zip(&fit.coefficients) {
            near(coefficient.value, &expected["beta"][name], 2e-5, name);
            let se = &expected["se_beta_glmmTMB"][name];
            near_relative(coefficient.se, se, 1e-4, name);
        }
        for ((name, factor), labels) in case.factors.iter().zip(&fit.factors).zip(&case.levels) {
            near(factor.sigma, &expected["sigma"][name], 2e-5, name);
            let reduced = number(&expected["deviance_reduced_glmmTMB"][format!("without_{name}")]);
            let gained = (reduced - deviance).max(0.0);
            assert!(
                (factor.gained - gained).abs() < 1e-6,
                "{id}, {name}: {} should be {gained}",
                factor.gained
            );
            let modes = expected["conditional_modes"][name].as_object().unwrap();
            assert_eq!(modes.len(), factor.levels.len(), "{id}");
            for (label, level) in labels.iter().zip(&factor.levels) {
                near(level.effect, &modes[label][0], 3e-5, label);
                near(level.effect_se, &modes[label][1], 3e-5, label);
            }
        }
    }
}
