//! From a photo's bytes to the text of the code in it: what a technician waits for, and what of it is decoding.

#![allow(clippy::unwrap_used)] // A panic here is the message.
#![allow(missing_docs)] // The bench macros write a public function.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use tagcode::photo::decode;
use tagcode::{Effort, read};

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

criterion_group!(benches, photo);
criterion_main!(benches);
