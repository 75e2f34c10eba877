//! How the modules of www are bundled: for the folder, for the page in one file and for whoever asks what they import.

/// The modules that a page or a worker starts from; all others are bundled into them, but for those that a dynamic
/// import asks for later, and what these share with the page.
pub const ENTRIES: [&str; 2] = ["main.js", "worker.js"];

/// How modules are bundled.
pub const BUNDLING: [&str; 6] = [
    "--bundle",
    "--format=esm",
    "--target=es2022",
    "--minify",
    "--legal-comments=eof",
    "--log-level=warning",
];
