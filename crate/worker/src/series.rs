//! The series of a family, its pieces and their files, for the page's worker.

use crate::as_value;
use loftkin_exchange::share;
use loftkin_work::series::{
    self, FinishWish, Packing, PatchWish, Picture, Reach, SeriesSession, ShopWish, Sketch, document,
};
use wasm_bindgen::prelude::*;

/// A counted series. Piece numbers are decimal text.
#[wasm_bindgen]
pub struct Series(SeriesSession);

#[wasm_bindgen]
impl Series {
    /// Counts the pieces of the family of a share code.
    #[wasm_bindgen(constructor)]
    pub fn new(code: &str, wish: JsValue) -> Result<Self, JsError> {
        let wish = serde_wasm_bindgen::from_value(wish)?;
        Ok(Self(SeriesSession::new(share::decode(code)?, &wish)?))
    }

    /// How many pieces there are.
    pub fn count(&self) -> JsValue {
        as_value(&self.0.count())
    }

    /// The piece of a number.
    pub fn piece(&self, number: &str) -> Result<JsValue, JsError> {
        Ok(as_value(&self.0.piece(number)?))
    }

    /// The piece of an arrangement, profiles from 0.
    #[wasm_bindgen(js_name = pieceOf)]
    pub fn piece_of(&self, arrangement: Vec<usize>) -> Result<JsValue, JsError> {
        Ok(as_value(&self.0.piece_of(arrangement)?))
    }

    /// Some pieces by chance.
    pub fn choose(&self, seed: u32, wanted: usize) -> Result<JsValue, JsError> {
        Ok(as_value(&self.0.choose(u64::from(seed), wanted)?))
    }

    /// A piece as points.
    pub fn picture(
        &self,
        number: &str,
        steps: usize,
        rows: usize,
    ) -> Result<PicturePoints, JsError> {
        Ok(PicturePoints(self.0.picture(number, steps, rows)?))
    }

    /// What small pictures of pieces are drawn from, `steps` + 1 points a profile.
    pub fn sketch(&self, steps: usize) -> SketchPoints {
        SketchPoints(self.0.sketch(steps))
    }

    /// The measures and making checks of a piece.
    pub fn making(&self, number: &str, wish: JsValue) -> Result<JsValue, JsError> {
        let wish: ShopWish = serde_wasm_bindgen::from_value(wish)?;
        Ok(as_value(&self.0.making(number, &wish)?))
    }

    /// The values of a check at each point of the picture of as many steps and rows.
    pub fn map(
        &self,
        number: &str,
        wish: JsValue,
        check: &str,
        steps: usize,
        rows: usize,
    ) -> Result<Vec<f32>, JsError> {
        let wish: ShopWish = serde_wasm_bindgen::from_value(wish)?;
        Ok(self.0.map(number, &wish, check, steps, rows)?)
    }

    /// How far the proof of the draft reaches, and where halves of a mould part.
    pub fn reach(&self, number: &str, wish: JsValue) -> Result<DraftReach, JsError> {
        let wish: ShopWish = serde_wasm_bindgen::from_value(wish)?;
        Ok(DraftReach(self.0.reach(number, &wish)?))
    }

    /// Whether the sheet meets itself at a distance.
    pub fn room(&self, number: &str, wish: JsValue) -> Result<JsValue, JsError> {
        let wish: ShopWish = serde_wasm_bindgen::from_value(wish)?;
        Ok(as_value(&self.0.room(number, &wish)?))
    }

    /// The direction that makes draft best.
    #[wasm_bindgen(js_name = bestDraw)]
    pub fn best_draw(&self, number: &str, wish: JsValue) -> Result<JsValue, JsError> {
        let wish: ShopWish = serde_wasm_bindgen::from_value(wish)?;
        Ok(as_value(&self.0.best_draw(number, &wish)?))
    }

    /// A lift-out to start from.
    #[wasm_bindgen(js_name = usualFinish)]
    pub fn usual_finish(&self, number: &str) -> Result<JsValue, JsError> {
        Ok(as_value(&self.0.usual_finish(number)?))
    }

    /// The finish by a lift-out.
    pub fn finish(&self, number: &str, wish: JsValue) -> Result<JsValue, JsError> {
        let wish: FinishWish = serde_wasm_bindgen::from_value(wish)?;
        Ok(as_value(&self.0.finish(number, &wish)?))
    }

    /// The bytes of a file of a piece: "step", "3mf", "stl", "gltf", "profiles",
    /// "trim" or "flat".
    pub fn file(&self, number: &str, word: &str, tolerance: f64) -> Result<Vec<u8>, JsError> {
        Ok(self.0.file(number, word, tolerance)?)
    }

    /// The piece numbers that a person wrote, one by one.
    pub fn selected(&self, text: &str) -> Result<Vec<String>, JsError> {
        Ok(self.0.selected(text)?)
    }
}

/// A zip of several pieces under way.
#[wasm_bindgen]
pub struct Package(Packing);

#[wasm_bindgen]
impl Package {
    /// An empty one, for files in these formats.
    #[wasm_bindgen(constructor)]
    pub fn new(words: Vec<String>, tolerance: f64) -> Result<Self, JsError> {
        Ok(Self(Packing::new(&words, tolerance)?))
    }

    /// Adds the files of a piece; tells, a sentence each, what cannot be made.
    pub fn add(&mut self, series: &Series, number: &str) -> Result<Vec<String>, JsError> {
        Ok(self.0.add(&series.0, number)?)
    }

    /// The bytes since they were last taken.
    pub fn take(&mut self) -> Vec<u8> {
        self.0.take()
    }

    /// The last bytes, of `wanted` pieces or of those that are in it.
    pub fn finish(self, series: &Series, wanted: usize) -> Result<Vec<u8>, JsError> {
        Ok(self.0.finish(&series.0, wanted)?)
    }
}

/// A piece as points, on its way to the page.
#[wasm_bindgen]
pub struct PicturePoints(Picture);

#[wasm_bindgen]
impl PicturePoints {
    /// x, y, z of each point, row by row.
    pub fn points(&self) -> Vec<f32> {
        self.0.points.clone()
    }

    /// The direction that the skin faces at each point.
    pub fn facing(&self) -> Vec<f32> {
        self.0.facing.clone()
    }

    /// The fraction along of each point of a row.
    pub fn along(&self) -> Vec<f64> {
        self.0.along.clone()
    }

    /// The fraction across of each row.
    pub fn across(&self) -> Vec<f64> {
        self.0.across.clone()
    }

    /// The middle of the picture and what is 1 in it, mm.
    pub fn frame(&self) -> Vec<f64> {
        self.0.frame.clone()
    }

    /// The profiles at the stations, each of as many points as a row.
    pub fn stations(&self) -> Vec<f32> {
        self.0.stations.clone()
    }
}

/// A sketch on its way to the page.
#[wasm_bindgen]
pub struct SketchPoints(Sketch);

#[wasm_bindgen]
impl SketchPoints {
    /// x and y of each point of each profile at each station, in mm.
    pub fn sections(&self) -> Vec<f32> {
        self.0.sections.clone()
    }

    /// The levels across: where they lie in space, which stations weigh on them
    /// and how much.
    pub fn levels(&self) -> Vec<f32> {
        self.0.levels.clone()
    }

    /// The levels nearest to the stations.
    pub fn stations(&self) -> Vec<u32> {
        self.0.stations.clone()
    }
}

/// The part of a link for a series, with the piece that is shown, if one is.
#[wasm_bindgen(js_name = seriesCode)]
pub fn series_code(wish: JsValue, piece: Option<String>) -> Result<String, JsError> {
    let wish = serde_wasm_bindgen::from_value(wish)?;
    Ok(document::to_code(&wish, piece.as_deref()))
}

/// The series of that part of a link.
#[wasm_bindgen(js_name = seriesOfCode)]
pub fn series_of_code(code: &str) -> Result<JsValue, JsError> {
    Ok(as_value(&document::of_code(code)?))
}

/// The series file, with the piece that is shown, if one is.
#[wasm_bindgen(js_name = seriesFile)]
pub fn series_file(wish: JsValue, piece: Option<String>) -> Result<String, JsError> {
    let wish = serde_wasm_bindgen::from_value(wish)?;
    Ok(document::to_file(&wish, piece.as_deref()))
}

/// The series of a file.
#[wasm_bindgen(js_name = seriesOfFile)]
pub fn series_of_file(text: &str) -> Result<JsValue, JsError> {
    Ok(as_value(&document::of_file(text)?))
}

/// How far the proof of the draft reaches, on its way to the page.
#[wasm_bindgen]
pub struct DraftReach(Reach);

#[wasm_bindgen]
impl DraftReach {
    /// What is proved at each place of an even grid: 0 the least draft, 1 undercut,
    /// 2 neither.
    pub fn proofs(&self) -> Vec<u8> {
        self.0.proofs.clone()
    }

    /// Places of that grid along.
    pub fn wide(&self) -> usize {
        Reach::size().0
    }

    /// And across.
    pub fn high(&self) -> usize {
        Reach::size().1
    }

    /// The chords of the parting lines, both ends of each in mm.
    pub fn parting(&self) -> Vec<f64> {
        self.0.parting.clone()
    }

    /// Whether the least draft is proved on the whole skin.
    #[wasm_bindgen(js_name = isProved)]
    pub fn is_proved(&self) -> bool {
        self.0.is_proved
    }

    /// What the band beside the parting line makes of the check; null without one.
    pub fn band(&self) -> JsValue {
        as_value(&self.0.band)
    }

    /// All of it in words, a sentence an entry.
    pub fn said(&self) -> Vec<String> {
        self.0.said.clone()
    }
}

/// What a patch of a trial strip says of the bath: nm per volt, least and most.
#[wasm_bindgen(js_name = calibrated)]
pub fn calibrated(patch: JsValue) -> Result<Vec<f64>, JsError> {
    let patch: PatchWish = serde_wasm_bindgen::from_value(patch)?;
    Ok(series::calibrated(patch)?.to_vec())
}

/// The films that come near a colour in the bath of a lift-out.
#[wasm_bindgen(js_name = wished)]
pub fn wished(finish: JsValue, colour: &str) -> Result<JsValue, JsError> {
    let wish: FinishWish = serde_wasm_bindgen::from_value(finish)?;
    Ok(as_value(&series::wished(&wish, colour)?))
}

/// The limits to start from.
#[wasm_bindgen(js_name = usualShop)]
pub fn usual_shop() -> JsValue {
    as_value(&ShopWish::default())
}

/// The materials to start from.
#[wasm_bindgen(js_name = materials)]
pub fn materials() -> JsValue {
    as_value(&series::materials())
}
