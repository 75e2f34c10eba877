//! Linear wishes on a step, and the program that they make: `program` and `solver` solve it.

/// A linear wish or tie on the step d.
#[derive(Clone, Debug)]
pub struct Row {
    /// The value now, grid steps; at or above 0 it is as wished.
    pub value: f64,
    /// The derivative by each knob that matters.
    pub slopes: Vec<(usize, f64)>,
    /// Whether the value must be 0 and not just at least 0.
    pub tie: bool,
}

/// The program, in grid steps.
pub struct Program<'a> {
    /// Cost of each knob.
    pub weights: &'a [f64],
    /// Its setting now.
    pub setting: &'a [f64],
    /// How far each knob may turn at once.
    pub reach: f64,
    /// The rows.
    pub rows: &'a [Row],
    /// A length that makes the numbers of the order of 1.
    pub unit: f64,
}

impl Row {
    /// The row as one or two wishes: the signs by which it must be at least 0.
    pub fn one_sided(&self) -> impl Iterator<Item = (&Row, f64)> {
        let signs: &[f64] = if self.tie { &[1.0, -1.0] } else { &[1.0] };
        signs.iter().map(move |&sign| (self, sign))
    }

    /// By how much the step misses what the row wants, grid steps.
    pub fn missed(&self, step: &[f64]) -> f64 {
        let change: f64 = self.slopes.iter().map(|&(knob, by)| by * step[knob]).sum();
        let value = self.value + change;
        if self.tie { value.abs() } else { -value }
    }
}
