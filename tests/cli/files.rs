//! Files are written whole or not at all, where they were asked for and nowhere else.

use super::{GOOD, quick, run_in, write};
use std::path::Path;

/// Names in a folder, sorted.
fn names(folder: &Path) -> Vec<String> {
    let mut all: Vec<String> = std::fs::read_dir(folder)
        .expect("folder")
        .map(|e| e.expect("entry").file_name().to_string_lossy().into_owned())
        .collect();
    all.sort();
    all
}

#[track_caller]
fn is_whole(path: &Path) {
    let bytes = std::fs::read(path).expect("picture");
    let text = String::from_utf8_lossy(&bytes);
    if path.extension().is_some_and(|e| e == "png") {
        assert_eq!(&bytes[..8], b"\x89PNG\r\n\x1a\n", "{}", path.display());
        // The last chunk of a whole PNG, with its checksum.
        assert!(bytes.ends_with(b"IEND\xaeB`\x82"), "{}", path.display());
        assert!(bytes.len() > 5_000, "{} is blank", path.display());
    } else {
        assert!(text.starts_with("<svg") || text.starts_with("<?xml"), "{}", path.display());
        assert!(text.trim_end().ends_with("</svg>"), "{}", path.display());
    }
}

#[test]
fn pictures_are_written_whole_into_a_folder_that_is_made() {
    let folder = tempfile::tempdir().expect("folder");
    for (command, pictures) in [
        ("odds", &["column", "losses", "odds"][..]),
        ("depth", &["depth"]),
        ("light", &["finishes", "light"]),
    ] {
        let target = format!("a/new/{command}");
        let ended = run_in(folder.path(), &quick(&[command, "--plot", &target]));
        assert_eq!(ended.code, 0, "{}", ended.err);
        let expected: Vec<String> =
            pictures.iter().flat_map(|p| [format!("{p}.png"), format!("{p}.svg")]).collect();
        let made = folder.path().join(&target);
        assert_eq!(names(&made), expected);
        for name in &expected {
            is_whole(&made.join(name));
            assert!(ended.err.contains(name.as_str()), "standard error says where: {}", ended.err);
        }
        // The answer itself stands alone on standard output.
        assert!(!ended.out.contains("wrote"), "{}", ended.out);
    }
    assert_eq!(names(folder.path()), ["a"]);
}

#[test]
fn a_second_run_replaces_the_pictures_by_the_same() {
    let folder = tempfile::tempdir().expect("folder");
    let draw = || {
        assert_eq!(run_in(folder.path(), &["depth", "--plot", "p"]).code, 0);
        let read = |name| std::fs::read(folder.path().join("p").join(name)).expect("picture");
        [read("depth.png"), read("depth.svg")]
    };
    let first = draw();
    assert!(first == draw(), "the same picture, byte for byte");
    assert_eq!(names(&folder.path().join("p")), ["depth.png", "depth.svg"]);
}

#[test]
fn a_place_that_cannot_be_written_is_a_failure_and_leaves_nothing() {
    let folder = tempfile::tempdir().expect("folder");
    write(folder.path(), "taken", "mine");
    for target in ["taken", "taken/deeper"] {
        let ended = run_in(folder.path(), &["depth", "--plot", target]);
        assert_eq!(ended.code, 1, "{}", ended.err);
        assert!(ended.err.contains("error") && ended.err.contains("taken"), "{}", ended.err);
    }
    assert_eq!(std::fs::read(folder.path().join("taken")).expect("file"), b"mine");
    assert_eq!(names(folder.path()), ["taken"]);
    // A folder of the picture's own name is in the way.
    std::fs::create_dir_all(folder.path().join("p/depth.png")).expect("folder");
    let ended = run_in(folder.path(), &["depth", "--plot", "p"]);
    assert_eq!(ended.code, 1, "{}", ended.err);
    assert!(ended.err.contains("depth.png"), "{}", ended.err);
    assert_eq!(names(&folder.path().join("p")), ["depth.png"]);
    assert_eq!(names(&folder.path().join("p/depth.png")), [""; 0]);
}

#[test]
fn a_new_scenario_is_usable_and_never_replaces_a_file() {
    let folder = tempfile::tempdir().expect("folder");
    let ended = run_in(folder.path(), &["new", "mine.toml"]);
    assert_eq!((ended.code, ended.out.as_str()), (0, ""), "{}", ended.err);
    let text = std::fs::read_to_string(folder.path().join("mine.toml")).expect("file");
    assert!(text.contains('#') && text.contains("[fish]"));
    for command in ["odds", "depth", "light"] {
        let ended = run_in(folder.path(), &quick(&[command, "mine.toml"]));
        assert_eq!((ended.code, ended.err.as_str()), (0, ""), "{command}");
    }
    write(folder.path(), "mine.toml", GOOD);
    let again = run_in(folder.path(), &["new", "mine.toml"]);
    assert_eq!((again.code, again.out.as_str()), (2, ""));
    assert!(again.err.contains("already there"), "{}", again.err);
    assert_eq!(std::fs::read_to_string(folder.path().join("mine.toml")).expect("file"), GOOD);
    let nowhere = run_in(folder.path(), &["new", "no/such/folder/mine.toml"]);
    assert_eq!(nowhere.code, 1, "{}", nowhere.err);
    assert_eq!(names(folder.path()), ["mine.toml"]);
}

#[test]
fn no_command_writes_a_file_unasked() {
    let folder = tempfile::tempdir().expect("folder");
    for args in [&[][..], &["odds"], &["depth"], &["light"], &["assumptions"], &["selfcheck"], &["man"]] {
        assert_eq!(run_in(folder.path(), &quick(args)).code, 0, "{args:?}");
    }
    assert_eq!(names(folder.path()), [""; 0]);
}
