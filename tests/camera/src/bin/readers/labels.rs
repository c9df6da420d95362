//! Labels as the app prints them: sheets as PDF and single labels as SVG and PNG, for renderers that are not ours, and
//! photographs of what they rendered.

use std::fs;

use camera::{Light, Scene};
use tagcode::sheet::{Dpi, Mm, Plate, STOCKS, Sheets, Stock};
use tagcode::{Gray, photo};

use crate::sets::Set;

/// From as near as a hand holds a phone: so the smallest labels print, too.
const NEAR: Mm = Mm(90.0);

/// Writes sheets of every kind for printers of 200 and 600 dots an inch, and where each label lies on its sheet; and one
/// label of each by itself, as SVG and as PNG.
pub(crate) fn sheets(folder: &str, each: usize) {
    fs::create_dir_all(folder).unwrap();
    let mut labels = csv::Writer::from_path(format!("{folder}/labels.csv")).unwrap();
    labels.write_record(["printed", "dpi", "text", "x", "y", "width", "height", "module"]).unwrap();
    for dpi in [200, 600] {
        for (at, stock) in STOCKS.iter().enumerate() {
            let tags = (0..each.min(stock.places())).map(|label| format!("LT-{}", 1000 + at * 100 + label));
            let plates: Vec<(String, Plate)> = tags.map(|tag| plate(&tag, stock, dpi)).collect();
            // The last labels of the sheet: where an error in its pitch would have added up.
            let first = stock.places() + 1 - plates.len();
            let only = plates.iter().map(|(_, plate)| plate.clone()).collect();
            let file = format!("{}-{dpi}.pdf", stock.key);
            fs::write(format!("{folder}/{file}"), Sheets::of(stock, first, only).unwrap().pdf()).unwrap();
            let mut row = |file: &str, text: &str, numbers: [f64; 5]| {
                let [x, y, width, height, module] = numbers.map(|number| format!("{number:.4}"));
                let row = [file, &dpi.to_string(), text, &x, &y, &width, &height, &module];
                labels.write_record(row).unwrap();
            };
            for (place, (text, plate)) in (first - 1..).zip(&plates) {
                let (x, y) = stock.corner(place).unwrap();
                row(&file, text, [x.0, y.0, stock.label.0.0, stock.label.1.0, plate.module().0]);
            }
            let (text, plate) = plates.first().unwrap();
            for (kind, bytes) in [("svg", plate.svg().into_bytes()), ("png", plate.png().unwrap())] {
                let file = format!("{}-{dpi}.{kind}", stock.key);
                fs::write(format!("{folder}/{file}"), bytes).unwrap();
                let (width, height) = plate.alone();
                let [width, height] = [width, height].map(|dots| plate.dpi().length(dots).0);
                row(&file, text, [0.0, 0.0, width, height, plate.module().0]);
            }
        }
    }
    labels.flush().unwrap();
}

fn plate(tag: &str, stock: &Stock, dpi: u32) -> (String, Plate) {
    let link = tagcode::link("id.marrowby.example", tag).unwrap();
    let plate = Plate::on(&link, tag, stock, Dpi::of(dpi).unwrap(), NEAR).unwrap();
    (link, plate)
}

/// How a rendered label is photographed: a name, pixels a module, and the rest. All are pictures that a person would keep
/// but the one that is out of focus and grainy at once, which is told and not asked of the other readers.
fn scenes() -> [(&'static str, f32, Scene); 7] {
    let clear = Scene { noise: 3.0, ..Scene::clear(960, 720) };
    let upside_down = Scene { turns: [170.0, 0.0, 15.0], ..clear.clone() };
    [
        ("held well", 4.0, Scene { turns: [6.0, 8.0, -5.0], ..clear.clone() }),
        ("small", 2.5, Scene { turns: [-20.0, 5.0, 5.0], ..clear.clone() }),
        ("aside", 4.5, Scene { turns: [95.0, 38.0, 0.0], ..clear.clone() }),
        ("soft", 4.5, Scene { soft: 1.0, ..upside_down.clone() }),
        ("noisy", 4.5, Scene { noise: 12.0, ..upside_down.clone() }),
        ("soft and noisy", 4.5, Scene { soft: 1.0, noise: 12.0, ..upside_down }),
        ("dusk", 4.0, Scene { turns: [12.0, -10.0, 0.0], light: Light::DUSK, ..clear }),
    ]
}

/// Photographs rendered labels: `FOLDER/crops.csv` names file, how it was printed, text and pixels a module of each.
pub(crate) fn photographs(folder: &str, into: &str) {
    let mut set = Set::in_folder(into);
    let mut crops = csv::Reader::from_path(format!("{folder}/crops.csv")).unwrap();
    for (at, crop) in crops.records().enumerate() {
        let crop = crop.unwrap();
        let (file, how, text) = (crop.get(0).unwrap(), crop.get(1).unwrap(), crop.get(2).unwrap());
        let module: f32 = crop.get(3).unwrap().parse().unwrap();
        let label = photo::decode(&fs::read(format!("{folder}/{file}")).unwrap()).unwrap();
        for (name, pixels, scene) in scenes() {
            let scene = Scene { beginning: at as u64 + 1, ..scene };
            set.add(&photographed(&label, module, pixels, &scene), &format!("{how}, {name}"), &[text]);
        }
    }
    set.close();
}

fn photographed(label: &Gray, module: f32, pixels: f32, scene: &Scene) -> Gray {
    let wide = label.width() as f32 / module * pixels / scene.size.1 as f32;
    Scene { wide, ..scene.clone() }.shot(Some(label))
}
