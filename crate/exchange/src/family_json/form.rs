//! The JSON form of a family: the fields of the file, and nothing else.
//!
//! Unknown fields and wrong kinds of value are refused here, with their place;
//! ranges and the grid are checked by the conversion beside it. The published
//! schema `family.schema.json` describes the same form.

use crate::json::Item;
use crate::json::form::{
    Fields, Fit, flag, list, list_of, misfit, number, one_of, refusal, text, whole,
};
use loftkin_kernel::quote::quoted;

pub(super) struct FamilyForm {
    pub name: String,
    pub unit: String,
    pub grid: f64,
    pub settings: SettingsForm,
    pub profiles: Vec<ProfileForm>,
}

#[derive(Default)]
pub(super) struct SettingsForm {
    pub pacing: Option<PacingForm>,
    pub placement: Option<PlacementForm>,
    pub twist_limit: Option<f64>,
    pub crease_limit: Option<f64>,
}

#[derive(Clone, Copy)]
pub(super) enum PacingForm {
    Parameter,
    Node,
}

#[derive(Clone, Copy)]
pub(super) enum PlacementForm {
    Stack,
    Ring,
}

pub(super) struct ProfileForm {
    pub name: String,
    pub closed: bool,
    pub nodes: Option<Vec<NodeForm>>,
    pub path: Option<PathForm>,
}

pub(super) struct PathForm {
    pub start: [f64; 2],
    pub spans: Vec<SpanForm>,
}

pub(super) enum SpanForm {
    Line([f64; 2]),
    Cubic([[f64; 2]; 3]),
}

/// `[x, y]` or `[x, y, "corner"]`, in mm.
pub(super) struct NodeForm {
    pub at: [f64; 2],
    pub corner: bool,
}

pub(super) fn family(item: &Item) -> Fit<FamilyForm> {
    let fields = Fields::of(
        item,
        &[
            "format", "version", "name", "unit", "grid", "settings", "profiles",
        ],
    )?;
    fields.needed("format", text)?;
    fields.needed("version", |item| {
        whole(item).ok_or_else(|| misfit(item, "a whole number"))
    })?;
    Ok(FamilyForm {
        name: fields.optional("name", text)?.unwrap_or_default(),
        unit: fields.needed("unit", text)?,
        grid: fields.needed("grid", number)?,
        settings: fields.optional("settings", settings)?.unwrap_or_default(),
        profiles: fields.needed("profiles", |item| list(item, "profile", profile))?,
    })
}

fn settings(item: &Item) -> Fit<SettingsForm> {
    let fields = Fields::of(
        item,
        &["pacing", "placement", "twist_limit", "crease_limit"],
    )?;
    Ok(SettingsForm {
        pacing: fields.optional("pacing", |item| {
            one_of(
                item,
                [
                    ("parameter", PacingForm::Parameter),
                    ("node", PacingForm::Node),
                ],
            )
        })?,
        placement: fields.optional("placement", |item| {
            one_of(
                item,
                [
                    ("stack", PlacementForm::Stack),
                    ("ring", PlacementForm::Ring),
                ],
            )
        })?,
        twist_limit: fields.optional("twist_limit", number)?,
        crease_limit: fields.optional("crease_limit", number)?,
    })
}

fn profile(item: &Item) -> Fit<ProfileForm> {
    let fields = Fields::of(item, &["name", "closed", "nodes", "path"])?;
    Ok(ProfileForm {
        name: fields.optional("name", text)?.unwrap_or_default(),
        closed: fields.optional("closed", flag)?.unwrap_or_default(),
        // Neither a list of nodes nor a path is a misfit of the profile, told by the conversion.
        nodes: fields.optional("nodes", |item| list(item, "node", node))?,
        path: fields.optional("path", path)?,
    })
}

fn path(item: &Item) -> Fit<PathForm> {
    let fields = Fields::of(item, &["start", "spans"])?;
    Ok(PathForm {
        start: fields.needed("start", point)?,
        spans: fields.needed("spans", |item| list(item, "span", span))?,
    })
}

fn span(item: &Item) -> Fit<SpanForm> {
    let fields = Fields::of(item, &["line", "cubic"])?;
    let line = fields.optional("line", point)?.map(SpanForm::Line);
    let cubic = fields
        .optional("cubic", |item| several(item, point))?
        .map(SpanForm::Cubic);
    match (line, cubic) {
        (Some(span), None) | (None, Some(span)) => Ok(span),
        _ => Err(misfit(item, "either \"line\" or \"cubic\"")),
    }
}

fn node(item: &Item) -> Fit<NodeForm> {
    const FORM: &str = "a node: [x, y] or [x, y, \"corner\"], in mm";
    let (x, y, corner) = match list_of(item)? {
        [x, y] => (x, y, None),
        [x, y, corner] => (x, y, Some(corner)),
        _ => return Err(misfit(item, FORM)),
    };
    if let Some(word) = corner {
        let word_text = text(word)?;
        if word_text != "corner" {
            let problem = format!(
                "\"{}\" is no kind of node, only \"corner\" is",
                quoted(&word_text)
            );
            return Err(refusal(word, problem));
        }
    }
    Ok(NodeForm {
        at: [number(x)?, number(y)?],
        corner: corner.is_some(),
    })
}

fn point(item: &Item) -> Fit<[f64; 2]> {
    several(item, number)
}

fn several<T, const COUNT: usize>(item: &Item, each: fn(&Item) -> Fit<T>) -> Fit<[T; COUNT]> {
    let values: Vec<T> = list_of(item)?.iter().map(each).collect::<Fit<_>>()?;
    values.try_into().map_err(|_| {
        misfit(
            item,
            if COUNT == 2 {
                "[x, y], in mm"
            } else {
                "three points [x, y]"
            },
        )
    })
}
