//! Gauss-Legendre rules on \[0, 1\].
//!
//! A rule of n nodes is exact for polynomials of degree 2n - 1 (Abramowitz and
//! Stegun, Handbook of Mathematical Functions, 1964, table 25.4).

/// A node and its weight.
pub type Node = (f64, f64);

/// Four nodes: exact to degree 7.
pub const FOUR: [Node; 4] = on_unit([
    (-0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
    (-0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.339_981_043_584_856_26, 0.652_145_154_862_546_1),
    (0.861_136_311_594_052_6, 0.347_854_845_137_453_85),
]);

/// Six nodes: exact to degree 11.
pub const SIX: [Node; 6] = on_unit([
    (-0.932_469_514_203_152, 0.171_324_492_379_170_36),
    (-0.661_209_386_466_264_5, 0.360_761_573_048_138_6),
    (-0.238_619_186_083_196_9, 0.467_913_934_572_691_04),
    (0.238_619_186_083_196_9, 0.467_913_934_572_691_04),
    (0.661_209_386_466_264_5, 0.360_761_573_048_138_6),
    (0.932_469_514_203_152, 0.171_324_492_379_170_36),
]);

const fn on_unit<const N: usize>(mut nodes: [Node; N]) -> [Node; N] {
    let mut index = 0;
    while index < N {
        nodes[index].0 = 0.5 + 0.5 * nodes[index].0;
        nodes[index].1 *= 0.5;
        index += 1;
    }
    nodes
}

/// The nodes of `rule` moved to `from`..`to`.
pub fn over(rule: &[Node], (from, to): (f64, f64)) -> impl Iterator<Item = Node> + '_ {
    let width = to - from;
    rule.iter()
        .map(move |&(at, weight)| (from + width * at, width * weight))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn powers_are_integrated_exactly() {
        let integral = |rule: &[Node], power: i32| -> f64 {
            over(rule, (0.0, 2.0))
                .map(|(at, weight)| weight * at.powi(power))
                .sum()
        };
        for (rule, most) in [(&FOUR[..], 7), (&SIX[..], 11)] {
            for power in 0..=most {
                let exact = 2.0_f64.powi(power + 1) / f64::from(power + 1);
                assert!((integral(rule, power) / exact - 1.0).abs() < 1e-14);
            }
            let beyond = 2.0_f64.powi(most + 2) / f64::from(most + 2);
            assert!(1e-9 < (integral(rule, most + 1) / beyond - 1.0).abs());
        }
    }
}
