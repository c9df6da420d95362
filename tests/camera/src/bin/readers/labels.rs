//! Labels as the app prints them: sheets as PDF for a renderer that is not ours, and photographs of what it rendered.

use std::fs;

use camera::{Light, Scene};
use tagcode::sheet::{Dpi, Mm, Plate, STOCKS, Sheets, Stock};
use tagcode::{Gray, photo};

use crate::sets::Set;

/// From as near as a hand holds a phone: so the smallest labels print, too.
const NEAR: Mm = Mm(90.0);

/// Writes sheets of every kind for printers of 200 and 600 dots an inch, and where each label lies on its sheet.
pub(crate) fn sheets(folder: &str, each: usize) {
    fs::create_dir_all(folder).unwrap();
    let mut labels = csv::Writer::from_path(format!("{folder}/labels.csv")).unwrap();
    labels.write_record(["pdf", "dpi", "text", "x", "y", "width", "height", "module"]).unwrap();
    for dpi in [200, 600] {
        for (at, stock) in STOCKS.iter().enumerate() {
            let tags = (0..each.min(stock.places())).map(|label| format!("LT-{}", 1000 + at * 100 + label));
            let plates: Vec<(String, Plate)> = tags.map(|tag| plate(&tag, stock, dpi)).collect();
            // The last labels of the sheet: where an error in its pitch would have added up.
            let first = stock.places() + 1 - plates.len();
            let only = plates.iter().map(|(_, plate)| plate.clone()).collect();
            let file = format!("{}-{dpi}.pdf", stock.key);
            fs::write(format!("{folder}/{file}"), Sheets::of(stock, first, only).unwrap().pdf()).unwrap();
            for (place, (text, plate)) in (first - 1..).zip(&plates) {
                let (x, y) = stock.corner(place).unwrap();
                let numbers = [x.0, y.0, stock.label.0.0, stock.label.1.0, plate.module().0];
                let [x, y, width, height, module] = numbers.map(|number| format!("{number:.4}"));
                labels
                    .write_record([&file, &dpi.to_string(), text, &x, &y, &width, &height, &module])
                    .unwrap();
            }
        }
    }
    labels.flush().unwrap();
}

fn plate(tag: &str, stock: &Stock, dpi: u32) -> (String, Plate) {
    let link = tagcode::link("id.marrowby.example", tag).unwrap();
    let plate = Plate::fit(&link, tag, stock.label, Dpi::of(dpi).unwrap(), NEAR).unwrap();
    (link, plate)
}

/// How a rendered label is photographed: a name, pixels a module, and the rest.
fn scenes() -> [(&'static str, f32, Scene); 5] {
    let clear = Scene { noise: 3.0, ..Scene::clear(960, 720) };
    [
        ("held well", 4.0, Scene { turns: [6.0, 8.0, -5.0], ..clear.clone() }),
        ("small", 2.5, Scene { turns: [-20.0, 5.0, 5.0], ..clear.clone() }),
        ("aside", 4.5, Scene { turns: [95.0, 38.0, 0.0], ..clear.clone() }),
        ("soft and noisy", 4.5, Scene { turns: [170.0, 0.0, 15.0], soft: 1.0, noise: 12.0, ..clear.clone() }),
        ("dusk", 4.0, Scene { turns: [12.0, -10.0, 0.0], light: Light::DUSK, ..clear }),
    ]
}

/// Photographs rendered labels: `FOLDER/crops.csv` names file, dpi, text and pixels a module of each.
pub(crate) fn photographs(folder: &str, into: &str) {
    let mut set = Set::in_folder(into);
    let mut crops = csv::Reader::from_path(format!("{folder}/crops.csv")).unwrap();
    for (at, crop) in crops.records().enumerate() {
        let crop = crop.unwrap();
        let (file, dpi, text) = (crop.get(0).unwrap(), crop.get(1).unwrap(), crop.get(2).unwrap());
        let module: f32 = crop.get(3).unwrap().parse().unwrap();
        let label = photo::decode(&fs::read(format!("{folder}/{file}")).unwrap()).unwrap();
        for (name, pixels, scene) in scenes() {
            let scene = Scene { beginning: at as u64 + 1, ..scene };
            set.add(
                &photographed(&label, module, pixels, &scene),
                &format!("printed at {dpi} dpi, {name}"),
                &[text],
            );
        }
    }
    set.close();
}

fn photographed(label: &Gray, module: f32, pixels: f32, scene: &Scene) -> Gray {
    let wide = label.width() as f32 / module * pixels / scene.size.1 as f32;
    Scene { wide, ..scene.clone() }.shot(Some(label))
}
