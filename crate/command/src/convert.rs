//! The orders that print a family in another form.

use crate::arguments::{Form, LinkOrder, ListOptions, SettingOptions, WriteOrder};
use crate::{BAD_INPUT, complain, print, source};
use loftkin_exchange::{family_json, share, svg};
use loftkin_kernel::family::Family;

/// Prints the share code, or a whole link when a page is given.
pub fn link(order: &LinkOrder) -> u8 {
    converted(&order.source, &order.lists, &order.settings, |family| {
        let code = share::encode(family);
        match &order.page {
            Some(page) => format!("{}#{code}\n", page.trim_end_matches('#')),
            None => format!("{code}\n"),
        }
    })
}

/// Prints the family file or the drawing.
pub fn write(order: &WriteOrder) -> u8 {
    converted(
        &order.source,
        &order.lists,
        &order.settings,
        |family| match order.form {
            Form::Family => family_json::write(family),
            Form::Svg => svg::write(family),
        },
    )
}

fn converted(
    source: &str,
    lists: &ListOptions,
    settings: &SettingOptions,
    form: impl Fn(&Family) -> String,
) -> u8 {
    let mut import = match source::read(source, lists.reading()) {
        Ok(import) => import,
        Err(error) => {
            complain(source, &error.to_string());
            return BAD_INPUT;
        }
    };
    for note in &import.notes {
        complain(source, &note.to_string());
    }
    if let Err(error) = settings.apply(&mut import.family) {
        complain(source, &error.to_string());
        return BAD_INPUT;
    }
    print(&form(&import.family));
    0
}
