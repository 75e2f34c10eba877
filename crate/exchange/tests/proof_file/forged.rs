//! Proof files with a box or a reason altered: refused, for each kind of both.

use super::*;
use serde_json::json;

/// The first list or record below `value` for which `is_sought` holds, `at` left out.
fn first(value: &mut Value, is_sought: fn(&Value) -> bool) -> Option<&mut Value> {
    if is_sought(value) {
        return Some(value);
    }
    match value {
        Value::Array(values) => values.iter_mut().find_map(|below| first(below, is_sought)),
        Value::Object(members) => {
            let mut below = members.iter_mut().filter(|(name, _)| *name != "at");
            below.find_map(|(_, value)| first(value, is_sought))
        }
        _ => None,
    }
}

fn is_direction(value: &Value) -> bool {
    let pair = value.as_array();
    pair.is_some_and(|pair| pair.len() == 2 && pair.iter().all(Value::is_number))
}

/// The proof with `change` made to the first such value of its roots; the complaint about it.
fn altered(
    document: &Value,
    is_sought: fn(&Value) -> bool,
    change: impl FnOnce(&mut Value),
    why: &str,
) {
    let mut document = document.clone();
    let roots = &mut document["claims"][0]["roots"];
    change(first(roots, is_sought).expect("such a value"));
    assert_refused(&document, why);
}

fn turn_round(direction: &mut Value) {
    let (x, y) = (&direction[0], &direction[1]);
    *direction = json!([-x.as_f64().unwrap(), -y.as_f64().unwrap()]);
}

#[test]
fn a_box_left_out_is_refused() {
    let squares = proof(vec![square(5000, 10.0), square(6000, 140.0)]);
    let pop =
        |name: &'static str| move |node: &mut Value| drop(node[name].as_array_mut().unwrap().pop());
    altered(
        &squares,
        |node| node["parts"].is_array(),
        pop("parts"),
        "a part is missing",
    );
    altered(
        &squares,
        |node| node["charts"].is_array(),
        pop("charts"),
        "a chart is missing",
    );
    let half = |node: &mut Value| {
        let (_, parts) = node.as_object_mut().unwrap().iter_mut().next().unwrap();
        parts.as_array_mut().unwrap().pop();
    };
    altered(
        &with_corner(),
        |node| node["x"].is_array() || node["y"].is_array(),
        half,
        "cut along x or y",
    );
    let twice = |node: &mut Value| {
        let parts = node["parts"].as_array_mut().unwrap();
        parts.push(parts[0].clone());
    };
    altered(
        &squares,
        |node| node["parts"].is_array(),
        twice,
        "a part is too many",
    );
    let mut document = squares;
    document["claims"][0]["roots"].as_array_mut().unwrap().pop();
    assert_refused(&document, "a root is missing");
}

#[test]
fn a_cut_outside_its_stretch_is_refused() {
    let mut document = proof(vec![square(5000, 10.0), square(6000, 140.0)]);
    document["claims"][0]["roots"][4]["at"] = json!([0.75]);
    assert_refused(&document, "outside itself");
}

/// Cut elsewhere than at a joint or a leaf, or not cut at all, a box has no parts that the curves are cut into.
#[test]
fn a_cut_at_no_place_of_the_curves_is_refused() {
    let circles = with_product();
    let is_cut = |node: &Value| node["at"].is_array();
    let at = |at: Value| move |node: &mut Value| node["at"] = at;
    altered(&circles, is_cut, at(json!([0.1, 0.6])), "where no curve is");
    altered(
        &circles,
        is_cut,
        at(json!([null, null])),
        "a stretch is not cut",
    );
    for leaves in [
        json!(3),
        json!(2),
        json!(1_u32 << 20),
        json!("8"),
        json!(true),
    ] {
        let mut document = circles.clone();
        document["claims"][0]["leaves"] = leaves;
        assert_refused(&document, "a power of two");
    }
}

#[test]
fn a_direction_turned_is_refused() {
    altered(
        &proof(hoods()),
        is_direction,
        turn_round,
        "does not run forward",
    );
    let squares = proof(vec![square(5000, 10.0), square(6000, 140.0)]);
    altered(&squares, is_direction, turn_round, "not separated");
    let in_chart = |node: &Value| node["charts"].is_array();
    let turned = |node: &mut Value| {
        turn_round(first(&mut node["charts"], is_direction).expect("a direction"))
    };
    altered(&squares, in_chart, turned, "a chart is not proved");
}

#[test]
fn a_pencil_altered_is_refused() {
    let slits = with_pencil();
    let is_pencil = |node: &Value| node["pencil"].is_array();
    altered(
        &slits,
        is_pencil,
        |node| turn_round(&mut node["pencil"][0]),
        "a chart is not proved",
    );
    altered(
        &slits,
        is_pencil,
        |node| node["pencil"].as_array_mut().unwrap().swap(0, 1),
        "a chart is not proved",
    );
    let pop = |node: &mut Value| drop(node["pencil"].as_array_mut().unwrap().pop());
    altered(&slits, is_pencil, pop, "one direction a curve");
    // No direction at all has no positive product with anything.
    altered(
        &slits,
        is_pencil,
        |node| node["pencil"] = json!([[0, 0], [0, 0]]),
        "a chart is not proved",
    );
}

#[test]
fn a_product_altered_is_refused() {
    let circles = with_product();
    let is_product = |node: &Value| node["product"].is_array();
    altered(
        &circles,
        is_product,
        |node| turn_round(&mut node["product"]),
        "a chart is not proved",
    );
    // Turned beyond the upright, the half-plane holds the products as before, and the negative axis as well.
    let lean = |node: &mut Value| {
        let upright = node["product"][1].as_f64().unwrap().signum();
        node["product"] = json!([-1e-6, upright]);
    };
    altered(&circles, is_product, lean, "a chart is not proved");
    let three = proof([10.0, 60.0, 100.0].map(|turn| square(5000, turn)).to_vec());
    let in_chart = |node: &Value| node["charts"].is_array();
    let product = |node: &mut Value| {
        let direction = first(&mut node["charts"], is_direction).expect("a direction");
        *direction = json!({ "product": direction.clone() });
    };
    altered(&three, in_chart, product, "that of two curves");
}

#[test]
fn a_corner_altered_is_refused() {
    let bare = with_corner();
    let is_corner = |node: &Value| !node["corner"].is_null();
    let turned = |node: &mut Value| {
        turn_round(first(&mut node["corner"], is_direction).expect("a direction"))
    };
    altered(&bare, is_corner, turned, "a chart is not proved");
    let again = |node: &mut Value| node["corner"] = json!({ "corner": node["corner"].clone() });
    altered(&bare, is_corner, again, "a corner that is not bare");
    // The corners of these squares have handles.
    let squares = proof(vec![square(5000, 10.0), square(6000, 140.0)]);
    let in_chart = |node: &Value| node["charts"].is_array();
    let corner =
        |node: &mut Value| node["charts"][0] = json!({ "corner": node["charts"][0].clone() });
    altered(&squares, in_chart, corner, "a corner that is not bare");
}
