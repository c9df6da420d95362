//! From a photo's bytes to the text of the code in it: what a technician waits for, and what of it is decoding.

#![allow(
    clippy::unwrap_used,
    clippy::print_stderr,
    missing_docs,
    reason = "a bench talks to who runs it, a panic is the message, and criterion's macros write public items"
)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use camera::{Bare, Scene};
use criterion::{Criterion, criterion_group, criterion_main};
use tagcode::photo::decode;
use tagcode::{Code, Effort, FRAME_SIDE, Gray, Strength, read};

/// How long one step between two questions whether to go on may take at a photo's effort: what a photo's look can last
/// beyond its time.
const LONGEST_STEP: Duration = Duration::from_millis(50);

/// How long the app looks at one live frame: a label in it must be read by then.
const FRAME_LOOK: Duration = Duration::from_millis(40);

/// Benches the demonstration's photograph of twelve megapixels, as a whole and in its two parts, and one without a
/// code: the longest a photo takes.
fn photo(criterion: &mut Criterion) {
    let [label, bare] =
        ["label-lt-2041.jpg", "no-code.jpg"].map(|name| std::fs::read(kit::photo(name)).unwrap());
    let (picture, nothing) = (decode(&label).unwrap(), decode(&bare).unwrap());
    let mut group = criterion.benchmark_group("tagcode");
    group.sample_size(10);
    group.bench_function("12 MP photo to text", |bench| {
        bench.iter(|| {
            let seen = read(&decode(black_box(&label)).unwrap(), Effort::Photo, &mut || true);
            assert_eq!(seen.codes.first().unwrap().text, "https://id.marrowby.example/i/LT-2041");
        });
    });
    group.bench_function("12 MP photo to picture", |bench| bench.iter(|| decode(black_box(&label)).unwrap()));
    for (name, effort) in [("frame", Effort::Frame), ("photo", Effort::Photo)] {
        group.bench_function(format!("12 MP picture to text, {name}"), |bench| {
            bench.iter(|| read(black_box(&picture), effort, &mut || true));
        });
        group.bench_function(format!("12 MP picture without a code, {name}"), |bench| {
            bench.iter(|| assert!(read(black_box(&nothing), effort, &mut || true).codes.is_empty()));
        });
    }
    group.finish();
}

/// A camera's frame: with a label, with a spoiled one, and of textures that look like codes.
fn frames(size: (usize, usize)) -> Vec<(&'static str, Gray)> {
    let label = Code::of("https://id.marrowby.example/i/LT-2041", Strength::Quarter).unwrap().bitmap(8);
    // The corner squares stand, and what lies between them does not.
    let (side, corner) = (label.width(), 12 * 8);
    let spoiled = Gray::from_fn(side, side, |x, y| {
        let far = |at: usize| at + corner >= side;
        let kept = (x < corner && (y < corner || far(y))) || (far(x) && y < corner);
        if kept { label.at(x as isize, y as isize) } else { 255 }
    });
    let scene = Scene::clear(size.0, size.1);
    let mut frames = vec![("label", scene.shot(Some(&label))), ("spoiled label", scene.shot(Some(&spoiled)))];
    for kind in Bare::ALL {
        let tile = kind.picture(3);
        let (width, height) = (tile.width(), tile.height());
        let whole = |x, y| tile.at((x % width) as isize, (y % height) as isize);
        frames.push((kind.name(), Gray::from_fn(size.0, size.1, whole)));
    }
    frames
}

/// Tells how long a frame is looked at, and the longest that it was looked at without a question whether to go on.
fn steps(_: &mut Criterion) {
    let mut longest = Duration::ZERO;
    for (name, frame) in frames((1280, 720)) {
        for effort in [Effort::Frame, Effort::Photo] {
            let (begun, mut last, mut step) = (Instant::now(), Instant::now(), Duration::ZERO);
            let mut ask = || {
                step = step.max(last.elapsed());
                last = Instant::now();
                true
            };
            let reading = black_box(read(&frame, effort, &mut ask));
            ask();
            eprintln!(
                "1280x720 {name}, {effort:?}: {:?} in {} attempts, longest step {step:?}",
                begun.elapsed(),
                reading.attempts
            );
            longest = longest.max(step);
        }
    }
    assert!(longest <= LONGEST_STEP, "the longest step takes {longest:?}; at most {LONGEST_STEP:?}");
}

/// Tells how long a frame of the live camera is looked at where nobody ends it, and holds what a label in it takes.
fn live(_: &mut Criterion) {
    let side = FRAME_SIDE as usize;
    for (name, frame) in frames((side, side)) {
        let times = || {
            let begun = Instant::now();
            black_box(read(&frame, Effort::Frame, &mut || true));
            begun.elapsed()
        };
        let mut times: Vec<Duration> = std::iter::repeat_with(times).take(15).collect();
        times.sort();
        let [middle, most] = [times.get(7), times.last()].map(Option::unwrap);
        eprintln!("{side}x{side} {name}: middle {middle:?}, most {most:?}");
        assert!(name != "label" || *middle <= FRAME_LOOK, "{middle:?}; at most {FRAME_LOOK:?}");
    }
}

criterion_group!(benches, steps, live, photo);
criterion_main!(benches);
