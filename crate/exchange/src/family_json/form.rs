//! The JSON form of a family: the fields of the file, and nothing else.
//!
//! Unknown fields and wrong kinds of value are refused here, with their place;
//! ranges and the grid are checked by the conversion beside it. The published
//! schema `family.schema.json` describes the same form.

use crate::json::{Item, Value};

/// What is not of the form.
pub(super) struct Misfit {
    /// The byte of the text.
    pub at: usize,
    /// The profile, node or field in words, outermost first.
    pub place: Vec<String>,
    /// What is wrong and what was expected.
    pub problem: String,
}

type Fit<T> = Result<T, Misfit>;

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

/// The fields `format` and `version`, read before the strict form so that a
/// newer file is called newer and not wrong.
pub(super) fn head(item: &Item) -> (Option<&str>, Option<u32>) {
    let Value::Record(fields) = &item.value else {
        return (None, None);
    };
    let field = |name: &str| fields.iter().find(|(field, _)| field == name);
    let format = match field("format") {
        Some((
            _,
            Item {
                value: Value::Text(text),
                ..
            },
        )) => Some(text.as_str()),
        _ => None,
    };
    (format, field("version").and_then(|(_, item)| whole(item)))
}

/// A whole number that is not negative; casts cut, so they are compared.
fn whole(item: &Item) -> Option<u32> {
    match item.value {
        Value::Number(number) if f64::from(number as u32) == number => Some(number as u32),
        _ => None,
    }
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
            let problem = format!("\"{word_text}\" is no kind of node, only \"corner\" is");
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

fn list<T>(item: &Item, member: &str, each: fn(&Item) -> Fit<T>) -> Fit<Vec<T>> {
    let members = list_of(item)?.iter().enumerate();
    members
        .map(|(index, item)| {
            each(item).map_err(|misfit| misfit.within(&format!("{member} {}", index + 1)))
        })
        .collect()
}

fn list_of(item: &Item) -> Fit<&[Item]> {
    match &item.value {
        Value::List(items) => Ok(items),
        _ => Err(misfit(item, "a list in [ ]")),
    }
}

fn one_of<T, const COUNT: usize>(item: &Item, words: [(&str, T); COUNT]) -> Fit<T> {
    let told = words
        .each_ref()
        .map(|(word, _)| format!("\"{word}\""))
        .join(" or ");
    let wanted = text(item)?;
    let found = words.into_iter().find(|(word, _)| *word == wanted);
    found
        .map(|(_, value)| value)
        .ok_or_else(|| refusal(item, format!("expected {told}, found \"{wanted}\"")))
}

fn text(item: &Item) -> Fit<String> {
    match &item.value {
        Value::Text(text) => Ok(text.clone()),
        _ => Err(misfit(item, "a text in quotes")),
    }
}

fn number(item: &Item) -> Fit<f64> {
    match item.value {
        Value::Number(number) => Ok(number),
        _ => Err(misfit(item, "a number")),
    }
}

fn flag(item: &Item) -> Fit<bool> {
    match item.value {
        Value::Flag(flag) => Ok(flag),
        _ => Err(misfit(item, "true or false")),
    }
}

fn misfit(item: &Item, expected: &str) -> Misfit {
    refusal(
        item,
        format!("expected {expected}, found {}", item.value.kind()),
    )
}

fn refusal(item: &Item, problem: String) -> Misfit {
    Misfit {
        at: item.at,
        place: Vec::new(),
        problem,
    }
}

impl Misfit {
    fn within(mut self, place: &str) -> Self {
        self.place.insert(0, place.to_owned());
        self
    }
}

/// The fields of a record, each to be asked for once.
struct Fields<'a> {
    record: &'a Item,
    fields: &'a [(String, Item)],
}

impl<'a> Fields<'a> {
    /// Refuses fields that are not `known`, and those that stand twice.
    fn of(record: &'a Item, known: &[&str]) -> Fit<Self> {
        let Value::Record(fields) = &record.value else {
            return Err(misfit(record, "a record in { }"));
        };
        for (index, (name, item)) in fields.iter().enumerate() {
            let problem = if !known.contains(&name.as_str()) {
                format!(
                    "there is no field \"{name}\" here, only \"{}\"",
                    known.join("\", \"")
                )
            } else if fields[..index].iter().any(|(earlier, _)| earlier == name) {
                format!("the field \"{name}\" stands twice")
            } else {
                continue;
            };
            return Err(refusal(item, problem));
        }
        Ok(Self { record, fields })
    }

    fn needed<T>(&self, name: &str, read: impl Fn(&Item) -> Fit<T>) -> Fit<T> {
        self.optional(name, read)?
            .ok_or_else(|| refusal(self.record, format!("the field \"{name}\" is missing")))
    }

    fn optional<T>(&self, name: &str, read: impl Fn(&Item) -> Fit<T>) -> Fit<Option<T>> {
        let Some((_, item)) = self.fields.iter().find(|(field, _)| field == name) else {
            return Ok(None);
        };
        // "node 3" is enough, and stands for the field "nodes" as well.
        let is_told = |place: &str| {
            place
                .split(' ')
                .next()
                .is_some_and(|member| name == format!("{member}s"))
        };
        read(item)
            .map(Some)
            .map_err(|misfit| match misfit.place.first() {
                Some(first) if is_told(first) => misfit,
                _ => misfit.within(name),
            })
    }
}
