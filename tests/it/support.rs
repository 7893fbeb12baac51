//! What several tests need.

use std::path::{Path, PathBuf};

/// The folder of the project.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// A file or folder under `tests/fixtures`.
pub fn fixture(path: &str) -> PathBuf {
    root().join("tests/fixtures").join(path)
}

/// Compares text with `snapshots/<folder>/<name>.snap`, white space included.
pub fn assert_snapshot(folder: &str, name: &str, text: &str) {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path(root().join("snapshots").join(folder));
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(|| insta::assert_snapshot!(name, text));
}
