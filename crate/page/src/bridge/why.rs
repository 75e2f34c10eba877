//! The pictures that explain a fault, as plain values.

use super::{Bridge, as_value};
use crate::why::{self, Item, Panel};
use serde::Serialize;
use wasm_bindgen::prelude::*;

/// One picture.
#[derive(Serialize)]
struct PanelMessage {
    title: String,
    text: String,
    /// Lowest x and y, highest x and y, in mm.
    frame: [f64; 4],
    items: Vec<ItemMessage>,
}

/// One thing in a picture.
#[derive(Serialize)]
struct ItemMessage {
    /// "line", "arrow", "angle", "mark" or "label".
    kind: &'static str,
    /// The part it plays, for its colour.
    part: &'static str,
    /// x and y of each point, in mm.
    points: Vec<f64>,
    /// The text of a label; else empty.
    text: String,
}

impl From<Panel> for PanelMessage {
    fn from(panel: Panel) -> Self {
        let (low, high) = panel.frame;
        Self {
            items: panel.items.into_iter().map(Into::into).collect(),
            frame: [low.x, low.y, high.x, high.y],
            title: panel.title,
            text: panel.text,
        }
    }
}

impl From<Item> for ItemMessage {
    fn from(item: Item) -> Self {
        let kind = match &item {
            Item::Line(..) => "line",
            Item::Arrow(..) => "arrow",
            Item::Angle(..) => "angle",
            Item::Mark(_) => "mark",
            Item::Label(..) => "label",
        };
        Self {
            kind,
            part: item.part().name(),
            points: item.points().flat_map(|p| [p.x, p.y]).collect(),
            text: match item {
                Item::Label(_, _, text) => text,
                _ => String::new(),
            },
        }
    }
}

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// The pictures that explain saying `index` of the finding.
    pub fn why(&mut self, index: usize) -> JsValue {
        let panels = why::panels(&mut self.board, index);
        let messages: Vec<PanelMessage> = panels.into_iter().map(Into::into).collect();
        as_value(&messages)
    }
}
