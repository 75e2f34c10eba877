//! The worker's module in a browser: a mend and a proof of families of the
//! demonstration come out as they do natively.

#![cfg(target_arch = "wasm32")]

use js_sys::{Array, Function, JSON, Reflect};
use loftkin_exchange::{family_json, share};
use loftkin_work::{MendWish, is_as_asked, mend};
use loftkin_worker::{mend_family, proof_of, sets_of, tolerance_of};
use std::ops::ControlFlow;
use wasm_bindgen::prelude::*;
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

const RING: &str = include_str!("../../../demo-curves/ring-through-the-axis.json");

fn wish() -> MendWish {
    MendWish {
        pair: None,
        any_blend: false,
        margin: Some(0.0),
        movable: None,
        pinned: Vec::new(),
        keep_ends: false,
        keep_end_tangents: false,
        keep_height: false,
        keep_width: false,
        remedies_first: true,
        blame_first: true,
    }
}

fn wished() -> JsValue {
    serde_wasm_bindgen::to_value(&wish()).unwrap()
}

fn code() -> String {
    share::encode(&family_json::read(RING).unwrap().family)
}

fn text(value: &JsValue, name: &str) -> Option<String> {
    Reflect::get(value, &name.into()).unwrap().as_string()
}

#[wasm_bindgen_test]
fn the_bridge_gives_what_the_work_gives() {
    let family = share::decode(&code()).unwrap();
    let told = Function::new_with_args("told", "(globalThis.told ??= []).push(told.round)");
    let answer = mend_family(&code(), wished(), &told).unwrap_or_else(|_| panic!("a mend"));
    let expected = mend(&family, &wish(), &mut |_| ControlFlow::Continue(())).unwrap();
    assert_eq!(text(&answer, "family"), expected.family);
    assert_eq!(text(&answer, "ending").as_deref(), Some("mended"));
    let mended = share::decode(&expected.family.unwrap()).unwrap();
    let table = loftkin_kernel::table::Table::new(mended).unwrap();
    assert!(is_as_asked(&table, &wish().request()));
    let rounds = Array::from(&Reflect::get(&js_sys::global(), &"told".into()).unwrap());
    assert_eq!(rounds.get(0), JsValue::from(1));
}

#[wasm_bindgen_test]
fn a_search_ends_when_it_is_told_to() {
    let stop = Function::new_no_args("return false");
    let answer = mend_family(&code(), wished(), &stop).unwrap_or_else(|_| panic!("an answer"));
    assert_eq!(text(&answer, "ending").as_deref(), Some("nothing"));
    assert_eq!(text(&answer, "family"), None);
}

#[wasm_bindgen_test]
fn what_is_no_family_is_refused_with_a_sentence() {
    let Err(error) = tolerance_of("not a code") else {
        panic!("there is no such family")
    };
    let told = JSON::stringify(&Reflect::get(&error.into(), &"message".into()).unwrap());
    assert!(10 < told.unwrap().length());
}

#[wasm_bindgen_test]
fn the_rest_is_told_of_the_whole_family() {
    assert!(!sets_of(&code()).unwrap_or_default().is_empty());
    let proof = proof_of(&code()).unwrap_or_else(|_| panic!("a proof"));
    assert!(text(&proof, "text").unwrap().contains("loftkin proof"));
}
