//! Proof files that say something else than their family or claim what is not theirs: refused.

use super::*;
use loftkin_exchange::family_json;
use serde_json::json;

/// What the file says of the family must be what its curves are.
#[test]
fn a_curve_of_another_family_is_refused() {
    let whole = proof(hoods());
    let changed = |place: &str, change: fn(f64) -> f64| {
        let mut document = whole.clone();
        let number = document.pointer_mut(place).expect("a number");
        *number = json!(change(number.as_f64().unwrap()));
        document
    };
    let joint = changed("/curves/1/points/3/0", f64::next_up);
    assert_refused(&joint, "a joint is not where its profile has it");
    let handle = changed("/curves/1/points/4/0", |x| x + 1e-4);
    assert_refused(&handle, "a handle is not that of the spline");
    let paced = changed("/curves/1/breaks/2", |u| u + 1e-9);
    assert_refused(&paced, "not paced as the family says");
    let node = changed("/family/profiles/1/nodes/2/0", |x| x + 0.01);
    assert_refused(&node, "a joint is not where");

    let mut document = whole.clone();
    document["family"]["settings"]["pacing"] = json!("node");
    assert_refused(&document, "not paced as the family says");
    document["family"]["settings"]["pacing"] = json!("even");
    assert_refused(&document, "the pacing is");
    let mut document = whole.clone();
    document["family"]["profiles"][1]["nodes"][2] = json!([46.0, 51.0]);
    assert_refused(&document, "a handle is not that of the spline");
    let mut document = whole.clone();
    document["family"]["profiles"]
        .as_array_mut()
        .unwrap()
        .swap(0, 1);
    assert_refused(&document, "a joint is not where");
    let mut document = whole;
    document["curves"].as_array_mut().unwrap().pop();
    assert_refused(&document, "a profile has no curve");
}

#[test]
fn a_path_of_another_family_is_refused() {
    let at = |x: i32, y: i32| GridPoint::new(x, y);
    let hood = |lean: i32| Profile {
        name: String::new(),
        closed: false,
        outline: Outline::Path {
            start: at(0, 0),
            spans: vec![
                PathSpan::Line { to: at(lean, 4000) },
                PathSpan::Cubic {
                    first: at(500 + lean, 6000),
                    second: at(3000, 7000),
                    to: at(5000, 6500),
                },
            ],
        },
    };
    let whole = proof(vec![hood(0), hood(-700)]);
    assert_proved(&whole, 1);
    let mut document = whole.clone();
    document["family"]["profiles"][0]["path"]["spans"][1]["cubic"][1] = json!([30.01, 70]);
    assert_refused(&document, "a handle is not where its profile has it");
    // The same two ends by another way: a line is paced evenly, a cubic as its handles say.
    let mut document = whole;
    document["family"]["profiles"][0]["path"]["spans"][0] =
        json!({"cubic": [[0, 10], [0, 30], [0, 40]]});
    assert_refused(&document, "a handle is not where its profile has it");
}

#[test]
fn a_claim_that_names_no_curves_of_the_family_is_refused() {
    let whole = proof(hoods());
    let claiming = |curves: Value| {
        let mut document = whole.clone();
        document["claims"][0]["curves"] = curves;
        document
    };
    assert_refused(&claiming(json!([])), "names no curve");
    assert_refused(&claiming(json!([0, -1])), "not there");
    assert_refused(&claiming(json!([0, 3])), "not there");
    assert_refused(&claiming(json!([0, 1.0])), "not there");
    assert_refused(&claiming(json!([false, true])), "not there");
    assert_refused(&claiming(json!(["0", "1"])), "not there");
    assert_refused(&claiming(json!([1, 1])), "twice");
    let mut document = whole.clone();
    document["claims"] = json!([]);
    assert_refused(&document, "claims nothing");
    let mut document = whole.clone();
    document["claims"][0]["holds"] = json!(true);
    assert_refused(&document, "fields other than");
    let mut document = whole.clone();
    document["version"] = json!(2);
    assert_refused(&document, "version 3");
    let text = whole.to_string();
    let twice = text.replacen("\"version\":3", "\"version\":3,\"version\":3", 1);
    assert!(twice.len() > text.len());
    let output = checked_text(&twice, None);
    let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(complaint.contains("twice in one record"), "{complaint}");
}

/// A family file beside the proof must be the very family: its names, order, settings and nodes.
#[test]
fn a_proof_is_about_the_family_that_is_given() {
    let table = |change: fn(&mut Family)| {
        let mut family = Family {
            name: "Quay".to_owned(),
            profiles: hoods(),
            ..Family::default()
        };
        family.profiles[0].name = "Bell".to_owned();
        change(&mut family);
        Table::new(family).expect("a family")
    };
    let text = proof_file::write(&table(|_| ())).text;
    let against = |change: fn(&mut Family)| {
        let file = tempfile::NamedTempFile::new().expect("a file");
        std::fs::write(file.path(), family_json::write(table(change).family())).expect("written");
        let output = checked_text(&text, Some(file.path()));
        let said = [output.stdout, output.stderr].concat();
        (
            output.status.success(),
            String::from_utf8(said).expect("text"),
        )
    };
    let (holds, said) = against(|_| ());
    assert!(
        holds && said.contains("\"Quay\"") && said.contains("1 \"Bell\""),
        "{said}"
    );
    let others: [fn(&mut Family); 5] = [
        |family| family.name.push('s'),
        |family| family.profiles[0].name.push('s'),
        |family| family.profiles.swap(1, 2),
        |family| family.settings.twist_limit = TenthsOfDegree(450),
        |family| family.profiles.truncate(2),
    ];
    for other in others {
        let (holds, said) = against(other);
        assert!(!holds && said.contains("another family"), "{said}");
    }
}
