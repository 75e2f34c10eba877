//! Makes the page in one file, to be opened from a disk: dist/loftkin.html.
//!
//! It is made from the same modules, styles and html as the folder, by putting into the html whatever it refers to.
//! A browser lets a file on a disk load no module and no WebAssembly from beside it, hence this second form.

use crate::bundling::BUNDLING;
use crate::node;
use crate::place::Project;
use crate::run::{self, Failure, Outcome};
use base64::Engine;
use base64::engine::general_purpose::STANDARD as BASE64;
use std::fs;
use std::ops::Range;
use std::path::Path;

/// The file's name in the folder.
pub const NAME: &str = "loftkin.html";

/// How the loader names the page's module, as the bundler writes it.
const MODULE: &str = "new URL(\"loftkin_page_bg.wasm\",import.meta.url)";

/// How the page names the module of its worker, likewise.
const WORKER_MODULE: &str = "new URL(\"./loftkin_worker_bg.wasm\",import.meta.url)";

/// How the loader of that module names it. It is always handed the compiled module, so this is never used.
const UNUSED: &str = "new URL(\"loftkin_worker_bg.wasm\",import.meta.url)";

/// How the page names the worker, as the bundler writes it.
const WORKER: &str = "new URL(\"./worker.js\",import.meta.url)";

/// What the file may do: run what is in it, and call no one at all.
const POLICY: &str = "default-src 'none'; script-src 'unsafe-inline' 'wasm-unsafe-eval'; style-src 'unsafe-inline'; \
                      img-src blob: data:; worker-src blob:; base-uri 'none'; form-action 'none'";

/// Makes the file. The folder and the bound module must be there.
///
/// # Errors
/// When the html refers to something in a way that this file does not know.
pub fn make(project: &Project) -> Outcome {
    let www = project.www();
    let read = |name: &str| Ok::<_, Failure>(fs::read(www.join(name))?);
    let script = bundled(project, "main.js")?;
    let script = with_module(&script, MODULE, &read("loftkin_page_bg.wasm")?)?;
    let script = with_module(&script, WORKER_MODULE, &read("loftkin_worker_bg.wasm")?)?;
    let script = replaced(&script, only(&script, UNUSED)?, "void 0");
    let script = with_worker(&script, &bundled(project, "worker.js")?)?;
    let page = fs::read_to_string(www.join("index.html"))?;
    let page = without_guide(&with_policy(&page)?)?;
    // The style sheet as it is bundled, and the icon beside it.
    let page = with_links(&page, |name| Ok(fs::read(project.dist().join(name))?))?;
    let page = with_script(&page, &script)?;
    Ok(fs::write(project.dist().join(NAME), page)?)
}

fn bundled(project: &Project, entry: &str) -> Outcome<String> {
    let file = project.target.join(format!("one-file-{entry}"));
    let mut esbuild = node::program(project, "esbuild");
    esbuild
        .arg(project.www().join(entry))
        .args(BUNDLING)
        .arg(format!("--outfile={}", file.display()));
    run::run(&mut esbuild)?;
    Ok(fs::read_to_string(file)?)
}

/// The script with the module's bytes in place of its address.
fn with_module(script: &str, address: &str, module: &[u8]) -> Outcome<String> {
    let place = only(script, address)?;
    let bytes = format!(
        "Uint8Array.from(atob(\"{}\"),c=>c.charCodeAt(0))",
        BASE64.encode(module)
    );
    Ok(replaced(script, place, &bytes))
}

/// The script with the worker's text in place of its address.
fn with_worker(script: &str, worker: &str) -> Outcome<String> {
    if !worker.is_ascii() {
        return Err(unknown("a letter beyond ASCII in the worker"));
    }
    let worker = replaced(worker, only(worker, UNUSED)?, "void 0");
    let blob = format!(
        "URL.createObjectURL(new Blob([{}],{{type:\"text/javascript\"}}))",
        quoted(&worker)
    );
    Ok(replaced(script, only(script, WORKER)?, &blob))
}

/// A string of JavaScript. ASCII only, so that these escapes are enough.
fn quoted(text: &str) -> String {
    let text = text.replace('\\', "\\\\").replace('"', "\\\"");
    format!("\"{}\"", text.replace('\n', "\\n").replace('\r', "\\r"))
}

fn with_policy(page: &str) -> Outcome<String> {
    let start = only(page, "http-equiv=\"Content-Security-Policy\" content=\"")?.end;
    let end = end_of_value(page, start)?;
    Ok(replaced(page, start..end, POLICY))
}

/// The page with its style sheets and its icon inside.
fn with_links(page: &str, read: impl Fn(&str) -> Outcome<Vec<u8>>) -> Outcome<String> {
    let mut page = page.to_owned();
    while let Some(start) = page.find("<link ") {
        let end = start
            + page[start..]
                .find('>')
                .ok_or_else(|| unknown("<link without an end"))?
            + 1;
        let tag = &page[start..end];
        let name_start = only(tag, "href=\"")?.end;
        let content = read(&tag[name_start..end_of_value(tag, name_start)?])?;
        let inside = if tag.contains("rel=\"stylesheet\"") {
            format!("<style>{}</style>", String::from_utf8_lossy(&content))
        } else if tag.contains("rel=\"icon\"") && tag.contains("type=\"image/svg+xml\"") {
            // Written with another case, so that it is not found again.
            let data = BASE64.encode(&content);
            format!("<LINK rel=\"icon\" href=\"data:image/svg+xml;base64,{data}\">")
        } else {
            return Err(unknown(tag));
        };
        page = replaced(&page, start..end, &inside);
    }
    Ok(page)
}

/// The page without the sentence that links the guide, which is not beside the file.
fn without_guide(page: &str) -> Outcome<String> {
    const END: &str = "</span>";
    let start = only(page, "<span id=\"guide-line\">")?.start;
    let length = page[start..]
        .find(END)
        .ok_or_else(|| unknown("<span without an end"))?;
    Ok(replaced(page, start..start + length + END.len(), ""))
}

fn with_script(page: &str, script: &str) -> Outcome<String> {
    // In a script element these would end it or hide its end.
    if script.contains("<!--") {
        return Err(unknown("<!-- in a script"));
    }
    let script = script.replace("</script", "<\\/script");
    let place = only(page, "<script type=\"module\" src=\"main.js\"></script>")?;
    let page = replaced(
        page,
        place,
        &format!("<script type=\"module\">{script}</script>"),
    );
    Ok(page)
}

/// Where `text` stands in `within`, if it does so exactly once.
fn only(within: &str, text: &str) -> Outcome<Range<usize>> {
    let mut places = within.match_indices(text);
    match (places.next(), places.next()) {
        (Some((start, _)), None) => Ok(start..start + text.len()),
        _ => Err(unknown(&format!("not exactly one {text}"))),
    }
}

fn end_of_value(text: &str, start: usize) -> Outcome<usize> {
    let length = text[start..].find('"');
    length
        .map(|length| start + length)
        .ok_or_else(|| unknown("a value without its closing quote"))
}

fn replaced(text: &str, place: Range<usize>, by: &str) -> String {
    format!("{}{by}{}", &text[..place.start], &text[place.end..])
}

fn unknown(what: &str) -> Failure {
    let source = Path::new(file!()).display();
    Failure::new(format!(
        "The page cannot be put into one file: {what}. Write www/index.html so that {source} understands it, or teach \
         it this form."
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'self'\">\
        <link rel=\"icon\" href=\"mark.svg\" type=\"image/svg+xml\"><link rel=\"stylesheet\" href=\"a.css\">\
        <script type=\"module\" src=\"main.js\"></script><p>";

    fn read(name: &str) -> Outcome<Vec<u8>> {
        Ok(format!("content of {name}").into_bytes())
    }

    #[test]
    fn the_guide_is_not_linked_where_it_is_not() {
        let page = "<p>a <span id=\"guide-line\">the <a href=\"g\">guide</a></span>b</p>";
        assert_eq!(without_guide(page).unwrap(), "<p>a b</p>");
        assert!(without_guide(PAGE).is_err());
    }

    #[test]
    fn everything_is_inside_and_the_network_is_forbidden() {
        let page = with_policy(PAGE).unwrap();
        let page = with_links(&page, read).unwrap();
        let page = with_script(&page, "a('</script>')").unwrap();
        assert!(page.contains(&format!("content=\"{POLICY}\"")));
        assert!(page.contains("<style>content of a.css</style>"));
        assert!(page.contains(&BASE64.encode("content of mark.svg")));
        assert!(page.contains("<script type=\"module\">a('<\\/script>')</script><p>"));
        assert!(!page.contains("src=\"") && !page.contains("<link"));
    }

    #[test]
    fn the_module_takes_the_place_of_its_address() {
        let script = with_module(&format!("a={MODULE};"), MODULE, b"\0asm").unwrap();
        assert_eq!(
            script,
            "a=Uint8Array.from(atob(\"AGFzbQ==\"),c=>c.charCodeAt(0));"
        );
        assert!(with_module("a=1;", MODULE, b"").is_err());
    }

    #[test]
    fn the_worker_is_inside_and_takes_its_module_from_the_page() {
        let script =
            with_worker(&format!("w={WORKER};"), &format!("a(\"b\\n\");{UNUSED}\n")).unwrap();
        assert_eq!(
            script,
            r#"w=URL.createObjectURL(new Blob(["a(\"b\\n\");void 0\n"],{type:"text/javascript"}));"#
        );
        assert!(with_worker("w=1;", UNUSED).is_err());
        assert!(with_worker(WORKER, &format!("\u{e9}{UNUSED}")).is_err());
    }

    #[test]
    fn what_is_not_understood_is_refused_and_named() {
        let preload = "<link rel=\"preload\" href=\"a.js\">";
        let failure = with_links(preload, read).unwrap_err();
        assert!(failure.to_string().contains("preload"));
        assert!(with_script("<script src=\"other.js\"></script>", "").is_err());
        assert!(with_script(PAGE, "x<!--y").is_err());
    }
}
