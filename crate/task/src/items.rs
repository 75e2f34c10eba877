//! What one module of a crate defines, imports and names, read from its syntax; its tests left out.

use std::collections::{BTreeMap, BTreeSet};
use syn::visit::{self, Visit};

/// A module's path below the crate, empty for the crate itself.
pub type Name = Vec<String>;

/// One module, in a file of its own or inside another module's file.
#[derive(Default)]
pub struct Module {
    /// The file that it is in.
    pub file: String,
    /// What it defines, functions and types alike.
    pub defined: BTreeSet<String>,
    /// What it imports or hands on, by the name that it has here.
    pub imports: BTreeMap<String, Name>,
    /// From where it imports all.
    pub globs: Vec<Name>,
    /// The paths that make the file depend on others.
    pub uses: BTreeSet<Name>,
}

/// The path of `word` below `name`.
pub fn joined(name: &Name, word: &str) -> Name {
    let mut name = name.clone();
    name.push(word.to_owned());
    name
}

/// Reads one module without those below it.
#[derive(Default)]
pub struct Reader {
    /// What was read.
    pub module: Module,
    /// The modules below, with their items when these are in the same file.
    pub children: Vec<(String, Option<Vec<syn::Item>>)>,
}

impl Reader {
    fn import(&mut self, tree: &syn::UseTree, before: &Name, counts: bool) {
        let (name, path) = match tree {
            syn::UseTree::Path(path) => {
                let below = joined(before, &path.ident.to_string());
                return self.import(&path.tree, &below, counts);
            }
            syn::UseTree::Group(group) => {
                for tree in &group.items {
                    self.import(tree, before, counts);
                }
                return;
            }
            syn::UseTree::Glob(_) => {
                self.module.globs.push(before.clone());
                if counts {
                    self.module.uses.insert(before.clone());
                }
                return;
            }
            syn::UseTree::Name(name) => named(before, &name.ident, &name.ident),
            syn::UseTree::Rename(name) => named(before, &name.ident, &name.rename),
        };
        if counts {
            self.module.uses.insert(path.clone());
        }
        self.module.imports.insert(name, path);
    }

    fn take_tokens(&mut self, tokens: proc_macro2::TokenStream) {
        let mut path: Name = Vec::new();
        let mut colons = 0;
        for token in tokens {
            match token {
                proc_macro2::TokenTree::Ident(word) => {
                    if colons != 2 {
                        self.end(&mut path);
                    }
                    path.push(word.to_string());
                    colons = 0;
                }
                proc_macro2::TokenTree::Punct(mark) if mark.as_char() == ':' => colons += 1,
                other => {
                    self.end(&mut path);
                    colons = 0;
                    if let proc_macro2::TokenTree::Group(group) = other {
                        self.take_tokens(group.stream());
                    }
                }
            }
        }
        self.end(&mut path);
    }

    fn end(&mut self, path: &mut Name) {
        let path = std::mem::take(path);
        if path.len() > 1 {
            self.module.uses.insert(path);
        }
    }
}

/// The name of an import and its path; `self` at the end means what is before it.
fn named(before: &Name, word: &syn::Ident, name: &syn::Ident) -> (String, Name) {
    if word == "self" {
        let last = before.last().cloned().unwrap_or_default();
        let name = if name == "self" {
            last
        } else {
            name.to_string()
        };
        (name, before.clone())
    } else {
        (name.to_string(), joined(before, &word.to_string()))
    }
}

impl<'ast> Visit<'ast> for Reader {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        if attributes(item).iter().any(is_for_tests) {
            return;
        }
        if let Some(name) = defined(item) {
            self.module.defined.insert(name);
        }
        match item {
            syn::Item::Mod(below) => {
                let items = below.content.as_ref().map(|(_, items)| items.clone());
                self.children.push((below.ident.to_string(), items));
            }
            syn::Item::Use(import) => {
                // What is only handed on makes no file depend on another.
                let counts = matches!(import.vis, syn::Visibility::Inherited);
                self.import(&import.tree, &Vec::new(), counts);
            }
            _ => visit::visit_item(self, item),
        }
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        let words = path.segments.iter().map(|word| word.ident.to_string());
        self.module.uses.insert(words.collect());
        visit::visit_path(self, path);
    }

    fn visit_vis_restricted(&mut self, _: &'ast syn::VisRestricted) {
        // To be seen by a module is not to use it.
    }

    fn visit_macro(&mut self, call: &'ast syn::Macro) {
        self.take_tokens(call.tokens.clone());
        visit::visit_macro(self, call);
    }
}

fn attributes(item: &syn::Item) -> &[syn::Attribute] {
    match item {
        syn::Item::Mod(item) => &item.attrs,
        syn::Item::Use(item) => &item.attrs,
        syn::Item::Fn(item) => &item.attrs,
        syn::Item::Impl(item) => &item.attrs,
        syn::Item::Const(item) => &item.attrs,
        syn::Item::Static(item) => &item.attrs,
        syn::Item::Struct(item) => &item.attrs,
        syn::Item::Enum(item) => &item.attrs,
        _ => &[],
    }
}

fn is_for_tests(attribute: &syn::Attribute) -> bool {
    attribute.path().is_ident("cfg")
        && attribute
            .meta
            .require_list()
            .is_ok_and(|list| list.tokens.to_string() == "test")
}

fn defined(item: &syn::Item) -> Option<String> {
    let name = match item {
        syn::Item::Fn(item) => &item.sig.ident,
        syn::Item::Const(item) => &item.ident,
        syn::Item::Static(item) => &item.ident,
        syn::Item::Struct(item) => &item.ident,
        syn::Item::Enum(item) => &item.ident,
        syn::Item::Trait(item) => &item.ident,
        syn::Item::Type(item) => &item.ident,
        syn::Item::Union(item) => &item.ident,
        syn::Item::Macro(item) => item.ident.as_ref()?,
        _ => return None,
    };
    Some(name.to_string())
}
