//! The bridge between the page's worker and the works on a family.
//!
//! A module of its own, which the page fetches when the first of these works is
//! asked for: the solver and the readers of files are too large to be sent to everyone who comes to look.
//! Families come as share codes; errors arrive as `Error` with a whole sentence.

mod series;

use js_sys::Function;
use loftkin_exchange::share;
use loftkin_kernel::table::Table;
use loftkin_work::MendWish;
use serde::Serialize;
use std::ops::ControlFlow;
use wasm_bindgen::prelude::*;

fn as_value(message: &impl Serialize) -> JsValue {
    // Messages are plain records of numbers and strings, which always convert.
    serde_wasm_bindgen::to_value(message).unwrap_or(JsValue::NULL)
}

fn judged(code: &str) -> Result<Table, JsError> {
    Ok(Table::new(share::decode(code)?)?)
}

/// Mends the family of a share code. `tell` hears of each round and breaks off
/// by giving `false`.
#[wasm_bindgen(js_name = mendFamily)]
pub fn mend_family(code: &str, wish: JsValue, tell: &Function) -> Result<JsValue, JsError> {
    let family = share::decode(code)?;
    let wish: MendWish = serde_wasm_bindgen::from_value(wish)?;
    let mut told = |progress| match tell.call1(&JsValue::NULL, &as_value(&progress)) {
        Ok(going_on) if going_on == JsValue::FALSE => ControlFlow::Break(()),
        Err(_) => ControlFlow::Break(()),
        Ok(_) => ControlFlow::Continue(()),
    };
    Ok(as_value(&loftkin_work::mend(&family, &wish, &mut told)?))
}

/// How far the nodes of two profiles of a share code's family may move, a sentence
/// each.
#[wasm_bindgen(js_name = nodesOf)]
pub fn nodes_of(code: &str, first: usize, second: usize) -> Result<Vec<String>, JsError> {
    let family = share::decode(code)?;
    Ok(loftkin_work::nodes(&family, (first, second)))
}

/// How true the family of a share code must be made.
#[wasm_bindgen(js_name = toleranceOf)]
pub fn tolerance_of(code: &str) -> Result<JsValue, JsError> {
    Ok(as_value(&loftkin_work::tolerance(&judged(code)?)))
}

/// Which sets of profiles of a share code's family agree, a sentence each.
#[wasm_bindgen(js_name = setsOf)]
pub fn sets_of(code: &str) -> Result<Vec<String>, JsError> {
    Ok(loftkin_work::sets(&judged(code)?))
}

/// The proof file of the family of a share code, with what is to be said of it.
#[wasm_bindgen(js_name = proofOf)]
pub fn proof_of(code: &str) -> Result<JsValue, JsError> {
    Ok(as_value(&loftkin_work::proof(share::decode(code)?)?))
}

/// What a file holds, whatever its kind: the share code of its family, and notes.
#[wasm_bindgen(js_name = readFile)]
pub fn read_file(name: &str, bytes: &[u8], kind: &str) -> Result<JsValue, JsError> {
    Ok(as_value(&loftkin_work::read_file(name, bytes, kind)?))
}
