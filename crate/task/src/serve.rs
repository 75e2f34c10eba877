//! A small HTTP server for one folder, for this machine alone.
//!
//! It listens on the loopback address only, answers GET and HEAD, and never leaves its folder. It is for
//! looking at and testing the page; a real host serves the same folder better.

use crate::run::{Failure, Outcome};
use std::io::{BufRead, BufReader, Write};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::{Component, Path, PathBuf};
use std::time::Duration;

/// A socket that has its port but does not answer yet.
pub struct Server {
    listener: TcpListener,
    folder: PathBuf,
}

impl Server {
    /// Takes the first free one of `ports`; port 0 lets the system choose.
    ///
    /// # Errors
    /// When none of them is free.
    pub fn bind(folder: PathBuf, ports: impl IntoIterator<Item = u16>) -> Outcome<Self> {
        let mut last = None;
        for port in ports {
            match TcpListener::bind((Ipv4Addr::LOCALHOST, port)) {
                Ok(listener) => return Ok(Self { listener, folder }),
                Err(error) => last = Some((port, error)),
            }
        }
        Err(Failure::new(match last {
            Some((port, error)) => {
                format!("No free port up to {port} ({error}); choose one by --port N.")
            }
            None => "No port was given to serve on.".to_owned(),
        }))
    }

    /// The address to open.
    pub fn address(&self) -> Outcome<String> {
        let port = self.listener.local_addr()?.port();
        Ok(format!("http://127.0.0.1:{port}/"))
    }

    /// Answers until the program ends.
    pub fn serve(self) {
        for stream in self.listener.incoming().flatten() {
            let folder = self.folder.clone();
            // A browser opens a handful of connections; a thread for each is simple and enough.
            std::thread::spawn(move || {
                // A page that was closed meanwhile is no error of ours.
                let _ = answer(stream, &folder);
            });
        }
    }
}

fn answer(mut stream: TcpStream, folder: &Path) -> std::io::Result<()> {
    stream.set_read_timeout(Some(Duration::from_secs(10)))?;
    let mut lines = BufReader::new(stream.try_clone()?).lines();
    let request = lines.next().transpose()?.unwrap_or_default();
    // The rest of the head is read, or closing would reset the connection.
    while lines
        .next()
        .transpose()?
        .is_some_and(|line| !line.is_empty())
    {}
    let mut words = request.split(' ');
    let (method, target) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
    let (status, kind, body) = match (method, file_for(target, folder)) {
        ("GET" | "HEAD", Some(file)) => match std::fs::read(&file) {
            Ok(body) => ("200 OK", media_type(&file), body),
            Err(_) => ("404 Not Found", "text/plain", b"not here\n".to_vec()),
        },
        ("GET" | "HEAD", None) => ("404 Not Found", "text/plain", b"not here\n".to_vec()),
        _ => (
            "405 Method Not Allowed",
            "text/plain",
            b"GET only\n".to_vec(),
        ),
    };
    write!(
        stream,
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nCache-Control: no-cache\r\nConnection: close\r\n\r\n",
        body.len()
    )?;
    if method != "HEAD" {
        stream.write_all(&body)?;
    }
    stream.flush()
}

/// The file that a request's target names, or `None` when it would leave the folder.
fn file_for(target: &str, folder: &Path) -> Option<PathBuf> {
    let path = target.split(['?', '#']).next()?;
    let relative = unescape(path.strip_prefix('/')?)?;
    let relative = if relative.is_empty() || relative.ends_with('/') {
        format!("{relative}index.html")
    } else {
        relative
    };
    let relative = Path::new(&relative);
    relative
        .components()
        .all(|part| matches!(part, Component::Normal(_)))
        .then(|| folder.join(relative))
}

/// Undoes percent-encoding; `None` when it is broken or not UTF-8.
fn unescape(text: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(text.len());
    let mut rest = text.as_bytes();
    while let Some((&first, after)) = rest.split_first() {
        if first == b'%' {
            let digits = std::str::from_utf8(after.get(..2)?).ok()?;
            bytes.push(u8::from_str_radix(digits, 16).ok()?);
            rest = &after[2..];
        } else {
            bytes.push(first);
            rest = after;
        }
    }
    String::from_utf8(bytes).ok()
}

fn media_type(file: &Path) -> &'static str {
    match file.extension().and_then(|name| name.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("js" | "mjs") => "text/javascript; charset=utf-8",
        Some("json" | "map") => "application/json",
        Some("webmanifest") => "application/manifest+json",
        Some("wasm") => "application/wasm",
        Some("svg") => "image/svg+xml",
        Some("png") => "image/png",
        Some("ico") => "image/x-icon",
        _ => "application/octet-stream",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read;

    fn ask(address: &str, request: &str) -> String {
        let host = address.trim_start_matches("http://").trim_end_matches('/');
        let mut stream = TcpStream::connect(host).unwrap();
        stream.write_all(request.as_bytes()).unwrap();
        let mut reply = String::new();
        stream.read_to_string(&mut reply).unwrap();
        reply
    }

    #[test]
    fn a_folder_is_served_and_not_left() {
        let folder = std::env::temp_dir().join(format!("loftkin-serve-{}", std::process::id()));
        std::fs::create_dir_all(folder.join("inner")).unwrap();
        std::fs::write(folder.join("index.html"), "<p>start").unwrap();
        std::fs::write(folder.join("inner/a b.js"), "1;").unwrap();
        let server = Server::bind(folder.join("inner/.."), [0]).unwrap();
        let address = server.address().unwrap();
        std::thread::spawn(move || server.serve());

        let start = ask(&address, "GET /?v=1 HTTP/1.1\r\nHost: x\r\n\r\n");
        assert!(start.starts_with("HTTP/1.1 200 OK\r\n") && start.ends_with("<p>start"));
        let script = ask(&address, "GET /inner/a%20b.js HTTP/1.1\r\n\r\n");
        assert!(script.contains("Content-Type: text/javascript") && script.ends_with("1;"));
        let head = ask(&address, "HEAD / HTTP/1.1\r\n\r\n");
        assert!(head.contains("Content-Length: 8\r\n") && head.ends_with("\r\n\r\n"));
        assert!(ask(&address, "GET /gone HTTP/1.1\r\n\r\n").starts_with("HTTP/1.1 404"));
        assert!(ask(&address, "POST / HTTP/1.1\r\n\r\n").starts_with("HTTP/1.1 405"));
        std::fs::remove_dir_all(folder).unwrap();
    }

    #[test]
    fn no_target_leads_out_of_the_folder() {
        let folder = Path::new("served");
        for target in [
            "/../a",
            "/%2e%2e/a",
            "//a",
            "/a/../../b",
            "a",
            "/%2",
            "/%ff",
        ] {
            assert_eq!(file_for(target, folder), None, "{target}");
        }
        assert_eq!(file_for("/a/", folder), Some(folder.join("a/index.html")));
    }
}
