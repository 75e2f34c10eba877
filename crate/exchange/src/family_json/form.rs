//! The JSON form of a family: serde types that mirror the file, nothing else.
//!
//! Unknown fields are refused here; ranges and the grid are checked by the
//! conversion in the parent module. The published schema `family.schema.json`
//! describes the same form.

use serde::Deserialize;
use serde::de::{Deserializer, Error, IgnoredAny, SeqAccess, Visitor};
use std::fmt;

/// What tells a family file from others, read before the strict form so that a
/// newer file is called newer and not wrong.
#[derive(Deserialize)]
pub(super) struct Head {
    pub format: Option<String>,
    pub version: Option<u32>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct FamilyForm {
    #[serde(rename = "format")]
    _format: String,
    #[serde(rename = "version")]
    _version: u32,
    #[serde(default)]
    pub name: String,
    pub unit: String,
    pub grid: f64,
    #[serde(default)]
    pub settings: SettingsForm,
    pub profiles: Vec<ProfileForm>,
}

#[derive(Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub(super) struct SettingsForm {
    pub pacing: Option<PacingForm>,
    pub placement: Option<PlacementForm>,
    pub twist_limit: Option<f64>,
    pub crease_limit: Option<f64>,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum PacingForm {
    Parameter,
    Node,
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum PlacementForm {
    Stack,
    Ring,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ProfileForm {
    #[serde(default)]
    pub name: String,
    #[serde(default)]
    pub closed: bool,
    pub nodes: Option<Vec<NodeForm>>,
    pub path: Option<PathForm>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PathForm {
    pub start: [f64; 2],
    pub spans: Vec<SpanForm>,
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum SpanForm {
    Line([f64; 2]),
    Cubic([[f64; 2]; 3]),
}

/// `[x, y]` or `[x, y, "corner"]`, in mm.
pub(super) struct NodeForm {
    pub at: [f64; 2],
    pub corner: bool,
}

impl<'de> Deserialize<'de> for NodeForm {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        from.deserialize_seq(NodeVisitor)
    }
}

struct NodeVisitor;

impl<'de> Visitor<'de> for NodeVisitor {
    type Value = NodeForm;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("a node: [x, y] or [x, y, \"corner\"], in mm")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<NodeForm, A::Error> {
        let x = seq
            .next_element()?
            .ok_or_else(|| Error::invalid_length(0, &self))?;
        let y = seq
            .next_element()?
            .ok_or_else(|| Error::invalid_length(1, &self))?;
        let corner = match seq.next_element::<String>()? {
            None => false,
            Some(word) if word == "corner" => true,
            Some(word) => {
                return Err(Error::custom(format!(
                    "\"{word}\" is no kind of node, only \"corner\" is"
                )));
            }
        };
        if seq.next_element::<IgnoredAny>()?.is_some() {
            return Err(Error::invalid_length(4, &self));
        }
        Ok(NodeForm { at: [x, y], corner })
    }
}
