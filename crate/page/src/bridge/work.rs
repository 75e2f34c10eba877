//! Work on a family by itself, for a worker; and what a worker is started with.

use super::as_value;
use crate::work::{self, MendWish};
use js_sys::Function;
use loftkin_exchange::share;
use loftkin_kernel::table::Table;
use std::ops::ControlFlow;
use wasm_bindgen::prelude::*;

/// The compiled module that this runs in: a worker made from it need not
/// compile it again.
#[wasm_bindgen(js_name = compiledModule)]
pub fn compiled_module() -> JsValue {
    wasm_bindgen::module()
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
    Ok(as_value(&work::mend(&family, &wish, &mut told)?))
}

/// What is to be said of the family of a share code as a whole, or null.
#[wasm_bindgen(js_name = wholeFamilyOf)]
pub fn whole_family_of(code: &str) -> Result<JsValue, JsError> {
    let table = Table::new(share::decode(code)?)?;
    let message = work::whole(&table);
    Ok(message.map_or(JsValue::NULL, |message| as_value(&message)))
}

/// The proof file of the family of a share code, with what is to be said of it.
#[wasm_bindgen(js_name = proofOf)]
pub fn proof_of(code: &str) -> Result<JsValue, JsError> {
    Ok(as_value(&work::proof(share::decode(code)?)?))
}
