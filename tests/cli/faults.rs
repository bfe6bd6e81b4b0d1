//! Input that cannot be used: exit status 2, nothing on standard output, all faults at once, each with its
//! place and what to write instead.

use super::{GOOD, refused, refused_in, run_in, with, write};

/// Runs `odds` on a spoilt scenario and gives the complaint.
#[track_caller]
fn complaint(text: &str) -> String {
    let folder = tempfile::tempdir().expect("folder");
    write(folder.path(), "mine.toml", text);
    refused_in(folder.path(), &["odds", "mine.toml"])
}

/// `file:line:column` of a piece of the text.
fn place(text: &str, piece: &str) -> String {
    let at = text.find(piece).expect("piece");
    let line = text[..at].matches('\n').count() + 1;
    let column = text[..at].rsplit('\n').next().unwrap_or_default().chars().count() + 1;
    format!("mine.toml:{line}:{column}")
}

#[test]
fn each_fault_has_its_place_and_its_remedy() {
    for (old, new, marked, help) in [
        ("depth = \"15 ft\"", "depth = \"15 lb\"", "\"15 lb\"", "15 ft"),
        ("depth = \"15 ft\"", "depth = 15", "15                 #", "15 ft"),
        ("secchi =", "sechi =", "sechi", "did you mean `secchi`"),
        ("depth = \"15 ft\"", "depth = \"50 ft\"", "\"50 ft\"", "raise the fish"),
        (
            "tint = \"clear\"",
            "turbidity = \"4 NTU\"\ntint = \"clear\"",
            "turbidity = \"4 NTU\"\ntint",
            "keep one",
        ),
        ("length = \"40 cm\"", "length = \"14 cm\"", "\"14 cm\"", "0.15 m to 0.7 m"),
        ("\"2026-04-14\"", "\"2026-02-30\"", "\"2026-02-30\"", "2026-04-14"),
        ("\"America/Chicago\"", "\"America/Chicgo\"", "\"America/Chicgo\"", "America/Chicago"),
        ("\"70 mm, standard lip", "\"71 mm, standard lip", "\"71 mm", "70 mm"),
    ] {
        let text = with(old, new);
        let said = complaint(&text);
        assert!(said.contains(&place(&text, marked)), "{said}\nwanted {}", place(&text, marked));
        assert!(said.contains(help), "{said}\nwanted {help}");
    }
}

#[test]
fn a_bait_longer_than_the_fish_is_refused() {
    let text = with("length = \"40 cm\"", "length = \"16 cm\"");
    let own = "\n[[box.bait]]\nname = \"the log\"\nlike = \"150 mm, deep lip, silent\"\nlength = \"18 cm\"\n";
    let said = complaint(&format!("{text}{own}"));
    assert!(said.contains("error: a bait is longer than the fish") && said.contains("180 mm"), "{said}");
    assert!(said.contains("warning") && said.contains("150 mm"), "a doubt beside it is told too: {said}");
}

#[test]
fn an_empty_box_is_refused() {
    let start = GOOD.find("use = [").expect("box");
    for empty in ["use = []\n", ""] {
        let said = complaint(&format!("{}{empty}", &GOOD[..start]));
        assert!(said.contains("box") && said.contains("help"), "{said}");
    }
}

#[test]
fn all_faults_are_told_at_once() {
    let text = GOOD
        .replace("depth = \"15 ft\"", "depth = \"15 lb\"")
        .replace("secchi =", "sechi =")
        .replace("cloud = 0.9", "cloud = 9")
        .replace("\"07:30\"", "\"25:30\"");
    let said = complaint(&text);
    for piece in ["\"15 lb\"", "sechi", "9                     #", "\"25:30\""] {
        assert!(said.contains(&place(&text, piece)), "{piece}: {said}");
    }
    assert!(said.matches("error").count() >= 4 && said.matches("help").count() >= 4, "{said}");
}

#[test]
fn what_is_missing_is_named_with_its_file() {
    let said = complaint("title = \"nearly nothing\"\n");
    for table in ["[place]", "[when]", "[sky]", "[water]", "[fish]", "[forage]", "[tackle]", "[box]"] {
        assert!(said.contains(table), "{table}: {said}");
    }
    let faults = said.matches("error").count();
    assert_eq!(said.matches("mine.toml").count(), faults, "each fault names its file: {said}");
}

#[test]
fn what_is_no_toml_is_shown_with_its_place() {
    let text = with("[sky]", "[sky");
    let said = complaint(&text);
    let line = text[..text.find("[sky").expect("sky")].matches('\n').count() + 1;
    assert!(said.contains(&format!("mine.toml:{line}:")), "{said}");
}

#[test]
fn values_set_on_the_line_are_checked_too() {
    let said = refused(&["odds", "--set", "water.sechi=2 m"]);
    assert!(said.contains("did you mean") && said.contains("water.secchi"), "{said}");
    let said = refused(&["odds", "--set", "water.secchi=2 kg"]);
    assert!(said.contains("--set") && said.contains("measures a force"), "{said}");
    assert!(refused(&["odds", "--set", "water.secchi"]).contains("PATH=VALUE"));
    let said = refused(&["odds", "--set", "fish.depth=40 m"]);
    assert!(said.contains("below the bottom"), "{said}");
    // Every fault of several.
    let said = refused(&["odds", "--set", "sky.cloud=7", "--set", "fish.depth=x", "--set", "a.b=c"]);
    assert!(said.matches("error").count() >= 3, "{said}");
}

#[test]
fn a_file_that_cannot_be_read_is_told_from_one_that_is_wrong() {
    let folder = tempfile::tempdir().expect("folder");
    let said = refused_in(folder.path(), &["odds", "nowhere.toml"]);
    assert!(said.contains("nowhere.toml") && said.contains("--list"), "{said}");
    let said = refused_in(folder.path(), &["odds", "main-lake-pont"]);
    assert!(said.contains("did you mean main-lake-point"), "{said}");
    std::fs::create_dir(folder.path().join("a-folder")).expect("folder");
    let said = refused_in(folder.path(), &["odds", "a-folder"]);
    assert!(said.contains("cannot read a-folder"), "{said}");
    write(folder.path(), "latin1.toml", b"title = \"Se\xf1or\"\n");
    let said = refused_in(folder.path(), &["odds", "latin1.toml"]);
    assert!(said.contains("not UTF-8") && said.contains("byte 11"), "{said}");
    write(folder.path(), "empty.toml", "");
    assert!(refused_in(folder.path(), &["odds", "empty.toml"]).contains("[fish]"));
    write(folder.path(), "marked.toml", format!("\u{feff}{GOOD}"));
    let marked = run_in(folder.path(), &super::quick(&["odds", "marked.toml"]));
    assert_eq!(marked.code, 0, "a byte order mark is no fault: {}", marked.err);
    write(folder.path(), "windows.toml", GOOD.replace('\n', "\r\n"));
    assert_eq!(run_in(folder.path(), &super::quick(&["odds", "windows.toml"])).code, 0);
}

#[cfg(unix)]
#[test]
fn a_file_without_the_right_to_read_is_refused() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().expect("folder");
    write(folder.path(), "secret.toml", GOOD);
    let path = folder.path().join("secret.toml");
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o000)).expect("rights");
    if std::fs::read(&path).is_ok() {
        eprintln!("the superuser reads everything: not tested");
        return;
    }
    let said = refused_in(folder.path(), &["odds", "secret.toml"]);
    assert!(said.contains("cannot read secret.toml"), "{said}");
}

#[test]
fn a_doubt_is_told_and_the_answer_given() {
    let folder = tempfile::tempdir().expect("folder");
    write(folder.path(), "mine.toml", with("depth_spread = \"0.5 m\"", "depth_spread = \"4 m\""));
    let ended = run_in(folder.path(), &super::quick(&["odds", "mine.toml", "--json"]));
    assert_eq!(ended.code, 0);
    assert!(ended.err.contains("warning") && ended.err.contains("mine.toml:"), "{}", ended.err);
    serde_json::from_str::<serde_json::Value>(&ended.out).expect("only JSON on standard output");
}

#[test]
fn a_broken_assumption_file_is_refused_by_name() {
    let folder = tempfile::tempdir().expect("folder");
    write(folder.path(), "mine.toml", "[[parameter]]\nname = 3\n");
    let said = refused_in(folder.path(), &["odds", "--model", "mine.toml"]);
    assert!(said.contains("mine.toml") && said.contains("line 2"), "{said}");
    assert!(refused_in(folder.path(), &["odds", "--model", "none.toml"]).contains("none.toml"));
    write(
        folder.path(),
        "upside.toml",
        "[[parameter]]\nname = \"appetite.ready\"\nmeans = \"m\"\nlow = 0.9\n\
        default = 0.5\nhigh = 0.1\nspread = \"share\"\nunit = \"1\"\ngrade = \"guess\"\ngroup = \"appetite\"\nsource = \"s\"\n",
    );
    let said = refused_in(folder.path(), &["odds", "--model", "upside.toml"]);
    assert!(said.contains("upside.toml") && said.contains("appetite.ready"), "{said}");
}
