//! The one object that the page calls.
//!
//! Every method is a plain call with plain values; errors arrive in the page
//! as `Error` with a whole sentence. Nothing is decided here.

use crate::board::{Board, BoardError, Contact, Hand, Pointer};
use crate::examples::EXAMPLES;
use crate::fingerprint;
use crate::message::{self, SettingsMessage};
use crate::paint;
use crate::picture;
use crate::scene::{Ink, scene};
use loftkin_exchange::any;
use loftkin_exchange::import::Import;
use loftkin_exchange::point_list::Reading;
use loftkin_exchange::{family_json, share, words};
use loftkin_kernel::family::Family;
use loftkin_kernel::table::Table;
use nalgebra::Point2;
use serde::Serialize;
use wasm_bindgen::prelude::*;
use web_sys::CanvasRenderingContext2d;

/// The drawing board with its colours.
#[wasm_bindgen(js_name = Board)]
pub struct Bridge {
    board: Board,
    colours: Vec<String>,
}

fn as_value(message: &impl Serialize) -> JsValue {
    // Messages are plain records of numbers and strings, which always convert.
    serde_wasm_bindgen::to_value(message).unwrap_or(JsValue::NULL)
}

fn notes_of(import: &Import) -> Vec<String> {
    import.notes.iter().map(ToString::to_string).collect()
}

/// The words for the second byte of a cell, in order.
#[wasm_bindgen(js_name = reasonWords)]
pub fn reason_words() -> Vec<String> {
    message::REASONS.map(str::to_owned).to_vec()
}

/// The names of the example families, in order.
#[wasm_bindgen(js_name = exampleNames)]
pub fn example_names() -> Vec<String> {
    EXAMPLES
        .iter()
        .map(|example| example.name.to_owned())
        .collect()
}

/// Whether a text begins like a share code.
#[wasm_bindgen(js_name = isShareCode)]
pub fn is_share_code(text: &str) -> bool {
    share::is_code(text)
}

/// What a list calls the family of a share code: its name, and how many profiles it has.
#[wasm_bindgen(js_name = nameOfShareCode)]
pub fn name_of_share_code(code: &str) -> Result<String, JsError> {
    let family = share::decode(code)?;
    let name = match family.name.trim() {
        "" => "Family without a name",
        name => name,
    };
    let count = words::counted(family.profiles.len(), "profile", "profiles");
    Ok(format!("{name}, {count}"))
}

/// The fingerprint of everything proved of a family file, as hexadecimal digits.
#[wasm_bindgen(js_name = fingerprintOfFile)]
pub fn fingerprint_of_file(text: &str) -> Result<String, JsError> {
    let table = Table::new(family_json::read(text)?.family)?;
    Ok(format!("{:016x}", fingerprint::of(&table)))
}

#[wasm_bindgen(js_class = Board)]
impl Bridge {
    /// An empty board.
    #[wasm_bindgen(constructor)]
    pub fn new() -> Result<Self, JsError> {
        Ok(Self {
            board: Board::new(Family::default())?,
            colours: vec![String::from("gray"); Ink::COUNT],
        })
    }

    // What has changed, and painting.

    /// Bits of what has to be shown anew: 1 drawing, 2 shape, 4 selection,
    /// 8 pair, 16 view, 32 history.
    #[wasm_bindgen(js_name = takeChanges)]
    pub fn take_changes(&mut self) -> u32 {
        self.board.take_changes().0
    }

    /// The theme's colours, in the order of the inks.
    #[wasm_bindgen(js_name = setColours)]
    pub fn set_colours(&mut self, colours: Vec<String>) {
        self.colours = colours;
    }

    /// Paints the board.
    pub fn paint(&self, context: &CanvasRenderingContext2d) {
        let size = self.board.view().size;
        paint::paint(
            context,
            &scene(&self.board),
            &self.colours,
            (size.x, size.y),
        );
    }

    // Documents in and out.

    /// The share code of the family to keep.
    #[wasm_bindgen(js_name = shareCode)]
    pub fn share_code(&self) -> String {
        share::encode(self.board.family_to_keep())
    }

    /// Opens the family of a share code as one step of the history.
    #[wasm_bindgen(js_name = openShareCode)]
    pub fn open_share_code(&mut self, code: &str, step: &str) -> Result<(), JsError> {
        let family = share::decode(code)?;
        Ok(self.board.open(family, step)?)
    }

    /// Begins anew with the family of a share code, without a history.
    #[wasm_bindgen(js_name = beginWithShareCode)]
    pub fn begin_with_share_code(&mut self, code: &str) -> Result<(), JsError> {
        let family = share::decode(code)?;
        let view = *self.board.view();
        self.board = Board::new(family)?;
        self.board.resize(view.size.x, view.size.y);
        self.board.fit();
        Ok(())
    }

    /// The family file.
    #[wasm_bindgen(js_name = fileText)]
    pub fn file_text(&self) -> String {
        family_json::write(self.board.family_to_keep())
    }

    /// Opens a file of any kind that is known (family, SVG drawing, point list,
    /// share link) as one step of the history and gives notes on it.
    #[wasm_bindgen(js_name = openFile)]
    pub fn open_file(&mut self, name: &str, bytes: &[u8]) -> Result<Vec<String>, JsError> {
        let import = any::read(name, bytes, Reading::default())?;
        let notes = notes_of(&import);
        self.board.open(import.family, "Open a file")?;
        Ok(notes)
    }

    /// Opens example `index` as one step of the history.
    #[wasm_bindgen(js_name = openExample)]
    pub fn open_example(&mut self, index: usize) -> Result<(), JsError> {
        let example = EXAMPLES
            .get(index)
            .ok_or_else(|| JsError::new("There is no such example."))?;
        let import = family_json::read(example.file)?;
        let step = format!("Open the example “{}”", example.name);
        Ok(self.board.open(import.family, &step)?)
    }

    /// Opens an empty family as one step of the history.
    #[wasm_bindgen(js_name = openEmpty)]
    pub fn open_empty(&mut self) -> Result<(), JsError> {
        Ok(self.board.open(Family::default(), "Begin anew")?)
    }

    // What stands on the board.

    /// Names, settings and counts of the family.
    pub fn family(&self) -> JsValue {
        as_value(&message::family(&self.board))
    }

    /// The active profile, if any.
    pub fn active(&self) -> Option<usize> {
        self.board.active()
    }

    /// x, y and corner (1 or 0) of each node of the active profile.
    pub fn nodes(&self) -> Vec<f64> {
        message::nodes(&self.board)
    }

    /// The chosen nodes of the active profile.
    #[wasm_bindgen(js_name = chosenNodes)]
    pub fn chosen_nodes(&self) -> Vec<u32> {
        self.board
            .chosen()
            .iter()
            .map(|&node| node as u32)
            .collect()
    }

    /// The hand: 0 move, 1 place, 2 stroke.
    pub fn hand(&self) -> u32 {
        self.board.hand() as u32
    }

    /// How many nodes the sketch in hand has.
    #[wasm_bindgen(js_name = sketchNodes)]
    pub fn sketch_nodes(&self) -> usize {
        self.board.sketch().map_or(0, |sketch| sketch.nodes.len())
    }

    /// Whether something under the pointer can be taken hold of.
    #[wasm_bindgen(js_name = isOverSomething)]
    pub fn is_over_something(&self) -> bool {
        self.board.hover().is_some()
    }

    /// Whether a drag is changing the family.
    #[wasm_bindgen(js_name = isDragging)]
    pub fn is_dragging(&self) -> bool {
        self.board.is_dragging()
    }

    /// The name of the step that undo would take back.
    #[wasm_bindgen(js_name = undoStep)]
    pub fn undo_step(&self) -> Option<String> {
        self.board.document().undo_step().map(str::to_owned)
    }

    /// The name of the step that redo would take again.
    #[wasm_bindgen(js_name = redoStep)]
    pub fn redo_step(&self) -> Option<String> {
        self.board.document().redo_step().map(str::to_owned)
    }

    // Pairs.

    /// Verdict and reason of every cell, two bytes each, in the order (1,1), (2,1), (2,2), ...
    pub fn cells(&self) -> Vec<u8> {
        self.board
            .document()
            .table()
            .map_or_else(Vec::new, message::cells)
    }

    /// The picture of a cell: path data of its profiles and of its inner sections.
    #[wasm_bindgen(js_name = cellPicture)]
    pub fn cell_picture(&self, first: usize, second: usize) -> Vec<String> {
        let (ends, inner) = picture::of_cell(self.board.document(), first, second);
        vec![ends, inner]
    }

    /// The proved margin of a cell in mm, if it has one.
    pub fn margin(&self, first: usize, second: usize) -> Option<f64> {
        self.board.margin(first, second)
    }

    /// The chosen pair: two indices, or nothing.
    pub fn pair(&self) -> Vec<u32> {
        self.board
            .pair()
            .map_or_else(Vec::new, |(a, b)| vec![a as u32, b as u32])
    }

    /// Chooses a pair.
    #[wasm_bindgen(js_name = choosePair)]
    pub fn choose_pair(&mut self, first: usize, second: usize) -> Result<(), JsError> {
        Ok(self.board.choose_pair(first, second)?)
    }

    /// Everything to say about the chosen pair, or null.
    pub fn finding(&mut self) -> JsValue {
        message::finding(&mut self.board).map_or(JsValue::NULL, |message| as_value(&message))
    }

    /// What is to be said of the family as a whole, or null. It takes longer
    /// than verdicts: for when the drawing is still.
    #[wasm_bindgen(js_name = wholeFamily)]
    pub fn whole_family(&self) -> JsValue {
        message::whole(&self.board).map_or(JsValue::NULL, |message| as_value(&message))
    }

    /// The fraction across of the section that is shown.
    pub fn across(&self) -> f64 {
        self.board.across()
    }

    /// Shows another section.
    #[wasm_bindgen(js_name = setAcross)]
    pub fn set_across(&mut self, across: f64) {
        self.board.set_across(across);
    }

    /// Shows the worst place of region `index` of the finding.
    #[wasm_bindgen(js_name = showRegion)]
    pub fn show_region(&mut self, index: usize) {
        self.board.show_region(index);
    }

    /// Tries hint `index` of the finding.
    #[wasm_bindgen(js_name = tryHint)]
    pub fn try_hint(&mut self, index: usize) -> Result<(), JsError> {
        let hint = self.board.hint(index).ok_or(BoardError::NoPair)?;
        Ok(self.board.try_remedy(hint.remedy)?)
    }

    /// Keeps the remedy on trial.
    #[wasm_bindgen(js_name = keepRemedy)]
    pub fn keep_remedy(&mut self) {
        self.board.keep_remedy();
    }

    /// Goes back to what was before the trial.
    #[wasm_bindgen(js_name = dropRemedy)]
    pub fn drop_remedy(&mut self) {
        self.board.drop_remedy();
    }

    /// What is on trial, in words.
    #[wasm_bindgen(js_name = onTrial)]
    pub fn on_trial(&self) -> Option<String> {
        let preview = self.board.preview()?;
        Some(words::remedy(&preview.before, &preview.remedy))
    }

    // Pictures of the chosen pair.

    /// A section in mm: x, y, x, y, ...
    pub fn section(&self, across: f64, steps: usize) -> Vec<f64> {
        picture::section(&self.board, across, steps)
    }

    /// Lowest x and y, highest x and y of the pair in mm, or nothing.
    #[wasm_bindgen(js_name = pairBounds)]
    pub fn pair_bounds(&self) -> Vec<f64> {
        picture::pair_bounds(&self.board)
            .map_or_else(Vec::new, |(low, high)| vec![low.x, low.y, high.x, high.y])
    }

    /// The surface, if there is one.
    pub fn surface(&self, steps: usize, rows: usize) -> Option<SurfaceMessage> {
        picture::surface(&self.board, steps, rows).map(SurfaceMessage)
    }

    /// A section in space: x, y, z, ...
    #[wasm_bindgen(js_name = sectionInSpace)]
    pub fn section_in_space(&self, across: f64, steps: usize) -> Vec<f32> {
        picture::section_in_space(&self.board, across, steps)
    }

    /// The double curves in space, as separate chords.
    #[wasm_bindgen(js_name = doubleCurves)]
    pub fn double_curves(&self) -> Vec<f32> {
        picture::double_curves(&self.board)
    }

    /// The two ends of the axis of a ring in space, or nothing.
    #[wasm_bindgen(js_name = axisInSpace)]
    pub fn axis_in_space(&self) -> Vec<f32> {
        picture::axis_in_space(&self.board)
    }

    /// The worst places in space.
    #[wasm_bindgen(js_name = worstPlaces)]
    pub fn worst_places(&self) -> Vec<f32> {
        picture::worst_places(&self.board)
    }

    // Pointers, view and choices.

    /// A pointer is pressed.
    pub fn press(&mut self, pointer: &PointerMessage) -> Result<(), JsError> {
        Ok(self.board.press(pointer.0)?)
    }

    /// A pointer moves.
    pub fn steer(&mut self, pointer: &PointerMessage) -> Result<(), JsError> {
        Ok(self.board.steer(pointer.0)?)
    }

    /// A pointer is released; gives a sentence to show, if any.
    pub fn release(&mut self, pointer: &PointerMessage) -> Result<Option<String>, JsError> {
        Ok(self.board.release(pointer.0)?)
    }

    /// The system took the pointers away.
    pub fn abandon(&mut self) {
        self.board.abandon();
    }

    /// Tells the size of the board in pixels.
    pub fn resize(&mut self, width: f64, height: f64) {
        self.board.resize(width, height);
    }

    /// Enlarges about a pixel.
    #[wasm_bindgen(js_name = zoomAt)]
    pub fn zoom_at(&mut self, x: f64, y: f64, factor: f64) {
        self.board.zoom(Some(Point2::new(x, y)), factor);
    }

    /// Enlarges about the middle.
    pub fn zoom(&mut self, factor: f64) {
        self.board.zoom(None, factor);
    }

    /// Moves the drawing by pixels.
    pub fn pan(&mut self, x: f64, y: f64) {
        self.board.pan(x, y);
    }

    /// Shows all profiles.
    pub fn fit(&mut self) {
        self.board.fit();
    }

    /// Where a place of the drawing (mm) stands on the board, in pixels.
    #[wasm_bindgen(js_name = toScreen)]
    pub fn to_screen(&self, x: f64, y: f64) -> Vec<f64> {
        let screen = self.board.view().to_screen(Point2::new(x, y));
        vec![screen.x, screen.y]
    }

    /// The place of the drawing (mm) under a pixel.
    #[wasm_bindgen(js_name = toMm)]
    pub fn to_mm(&self, x: f64, y: f64) -> Vec<f64> {
        let mm = self.board.view().to_mm(Point2::new(x, y));
        vec![mm.x, mm.y]
    }

    /// Chooses the hand: 0 move, 1 place, 2 stroke.
    #[wasm_bindgen(js_name = setHand)]
    pub fn set_hand(&mut self, hand: u32) {
        self.board.set_hand(match hand {
            1 => Hand::Place,
            2 => Hand::Stroke,
            _ => Hand::Move,
        });
    }

    /// Makes nodes keep to the visible grid.
    #[wasm_bindgen(js_name = setSnapping)]
    pub fn set_snapping(&mut self, snapping: bool) {
        self.board.set_snapping(snapping);
    }

    /// Chooses whether the first profile will be closed.
    #[wasm_bindgen(js_name = setClosing)]
    pub fn set_closing(&mut self, closing: bool) {
        self.board.set_closing(closing);
    }

    /// Makes a profile active.
    pub fn activate(&mut self, index: usize) {
        self.board.activate(index);
    }

    /// Chooses a node.
    pub fn choose(&mut self, node: usize, beside: bool) {
        self.board.choose(node, beside);
    }

    /// Chooses no node.
    #[wasm_bindgen(js_name = chooseNone)]
    pub fn choose_none(&mut self) {
        self.board.choose_none();
    }

    /// Chooses the next or the previous node.
    #[wasm_bindgen(js_name = chooseNext)]
    pub fn choose_next(&mut self, forward: bool) {
        self.board.choose_next(forward);
    }

    // Steps of the history.

    /// Goes one step back and gives its name.
    pub fn undo(&mut self) -> Option<String> {
        self.board.undo()
    }

    /// Takes an undone step again and gives its name.
    pub fn redo(&mut self) -> Option<String> {
        self.board.redo()
    }

    /// Ends the sketch.
    #[wasm_bindgen(js_name = endSketch)]
    pub fn end_sketch(&mut self) -> Result<(), JsError> {
        Ok(self.board.end_sketch()?)
    }

    /// Gives the sketch up.
    #[wasm_bindgen(js_name = dropSketch)]
    pub fn drop_sketch(&mut self) {
        self.board.drop_sketch();
    }

    /// Takes the last node of the sketch back.
    #[wasm_bindgen(js_name = sketchBack)]
    pub fn sketch_back(&mut self) {
        self.board.sketch_back();
    }

    /// Adds a node to the sketch at x, y mm.
    #[wasm_bindgen(js_name = sketchAt)]
    pub fn sketch_at(&mut self, x: f64, y: f64) -> Result<(), JsError> {
        Ok(self.board.sketch_at(x, y)?)
    }

    /// Names the family (no index) or a profile.
    pub fn rename(&mut self, index: Option<usize>, name: &str) {
        self.board.rename(index, name);
    }

    /// Changes the settings.
    #[wasm_bindgen(js_name = setSettings)]
    pub fn set_settings(&mut self, settings: JsValue) -> Result<(), JsError> {
        let message: SettingsMessage = serde_wasm_bindgen::from_value(settings)?;
        Ok(self.board.set_settings(message.settings())?)
    }

    /// Puts a node at x, y mm.
    #[wasm_bindgen(js_name = putNode)]
    pub fn put_node(&mut self, node: usize, x: f64, y: f64) -> Result<(), JsError> {
        Ok(self.board.put_node(node, x, y)?)
    }

    /// Moves the chosen nodes by steps of 0.01 mm.
    pub fn nudge(&mut self, dx: i32, dy: i32) -> Result<(), JsError> {
        Ok(self.board.nudge(dx, dy)?)
    }

    /// Makes a node a corner or smooth.
    #[wasm_bindgen(js_name = setCorner)]
    pub fn set_corner(&mut self, node: usize, corner: bool) -> Result<(), JsError> {
        Ok(self.board.set_corner(node, corner)?)
    }

    /// Makes the chosen nodes corners, or smooth.
    #[wasm_bindgen(js_name = toggleCorner)]
    pub fn toggle_corner(&mut self) -> Result<(), JsError> {
        Ok(self.board.toggle_corner()?)
    }

    /// Adds a node after the chosen one.
    #[wasm_bindgen(js_name = insertAfter)]
    pub fn insert_after(&mut self) -> Result<(), JsError> {
        Ok(self.board.insert_after()?)
    }

    /// Deletes the chosen nodes.
    #[wasm_bindgen(js_name = deleteNodes)]
    pub fn delete_nodes(&mut self) -> Result<(), JsError> {
        Ok(self.board.delete_nodes()?)
    }

    /// Reverses the active profile.
    pub fn reverse(&mut self) -> Result<(), JsError> {
        Ok(self.board.reverse()?)
    }

    /// Mirrors the active profile.
    pub fn mirror(&mut self) -> Result<(), JsError> {
        Ok(self.board.mirror()?)
    }

    /// Moves the seam to the chosen node.
    #[wasm_bindgen(js_name = moveSeam)]
    pub fn move_seam(&mut self) -> Result<(), JsError> {
        Ok(self.board.move_seam()?)
    }

    /// Copies the active profile.
    #[wasm_bindgen(js_name = copyProfile)]
    pub fn copy_profile(&mut self) -> Result<(), JsError> {
        Ok(self.board.copy_profile()?)
    }

    /// Deletes the active profile.
    #[wasm_bindgen(js_name = deleteProfile)]
    pub fn delete_profile(&mut self) -> Result<(), JsError> {
        Ok(self.board.delete_profile()?)
    }

    /// Moves the active profile one place.
    pub fn reorder(&mut self, later: bool) -> Result<(), JsError> {
        Ok(self.board.reorder(later)?)
    }

    /// Turns an exact path into nodes and says how near they keep to it.
    #[wasm_bindgen(js_name = pathToNodes)]
    pub fn path_to_nodes(&mut self) -> Result<String, JsError> {
        let (count, deviation) = self.board.path_to_nodes()?;
        Ok(format!(
            "{count} nodes keep within {deviation:.3} mm of the path."
        ))
    }
}

/// One pointer event.
#[wasm_bindgen(js_name = BoardPointer)]
pub struct PointerMessage(Pointer);

#[wasm_bindgen(js_class = BoardPointer)]
impl PointerMessage {
    /// Which pointer; where in pixels; whether a finger; whether it adds to
    /// the choice; whether it pans; when in milliseconds.
    #[wasm_bindgen(constructor)]
    pub fn new(
        id: i32,
        x: f64,
        y: f64,
        finger: bool,
        beside: bool,
        panning: bool,
        time: f64,
    ) -> Self {
        Self(Pointer {
            id,
            at: Point2::new(x, y),
            contact: if finger {
                Contact::Finger
            } else {
                Contact::Fine
            },
            beside,
            panning,
            time,
        })
    }
}

/// A surface on its way to the page.
#[wasm_bindgen(js_name = Surface)]
pub struct SurfaceMessage(picture::Surface);

#[wasm_bindgen(js_class = Surface)]
impl SurfaceMessage {
    /// x, y, z of each point, row by row.
    pub fn points(&self) -> Vec<f32> {
        self.0.points.clone()
    }

    /// For each point: 0 no concern, 1 a limit is passed, 2 folded.
    pub fn concern(&self) -> Vec<u8> {
        self.0.concern.clone()
    }

    /// How many points a row has.
    pub fn row(&self) -> usize {
        self.0.row
    }
}
