//! Small dense linear algebra: symmetric matrices, row by row.

/// Sums in eight lanes, which the compiler keeps in vector registers; the order of
/// addition is fixed, so the digits are the same everywhere.
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut lanes = [0.0; 8];
    let (whole_a, rest_a) = a.as_chunks::<8>();
    let (whole_b, rest_b) = b.as_chunks::<8>();
    for (x, y) in whole_a.iter().zip(whole_b) {
        for lane in 0..8 {
            lanes[lane] += x[lane] * y[lane];
        }
    }
    let rest: f64 = rest_a.iter().zip(rest_b).map(|(x, y)| x * y).sum();
    let pairs = [0, 1, 2, 3].map(|lane| lanes[lane] + lanes[lane + 4]);
    (pairs[0] + pairs[2]) + (pairs[1] + pairs[3]) + rest
}

/// A square matrix.
#[derive(Clone, Debug)]
pub struct Square {
    pub size: usize,
    pub values: Vec<f64>,
}

impl Square {
    pub fn zero(size: usize) -> Square {
        Square {
            size,
            values: vec![0.0; size * size],
        }
    }

    pub fn row(&self, i: usize) -> &[f64] {
        &self.values[i * self.size..(i + 1) * self.size]
    }

    pub fn row_mut(&mut self, i: usize) -> &mut [f64] {
        &mut self.values[i * self.size..(i + 1) * self.size]
    }

    pub fn at(&self, i: usize, j: usize) -> f64 {
        self.values[i * self.size + j]
    }

    pub fn set(&mut self, i: usize, j: usize, value: f64) {
        self.values[i * self.size + j] = value;
    }

    pub fn times(&self, vector: &[f64]) -> Vec<f64> {
        (0..self.size).map(|i| dot(self.row(i), vector)).collect()
    }

    /// Replaces the lower triangle by its Cholesky factor; the row that is not positive
    /// enough, if there is one (pivot at most `least` times the diagonal it started from).
    pub fn factor(&mut self, least: f64) -> Result<(), usize> {
        let size = self.size;
        for i in 0..size {
            let (above, from_here) = self.values.split_at_mut(i * size);
            let row = &mut from_here[..size];
            for j in 0..i {
                let other = &above[j * size..j * size + j + 1];
                row[j] = (row[j] - dot(&row[..j], &other[..j])) / other[j];
            }
            let pivot = row[i] - dot(&row[..i], &row[..i]);
            if pivot.is_nan() || pivot <= least * row[i].abs() {
                return Err(i);
            }
            row[i] = pivot.sqrt();
        }
        Ok(())
    }

    /// After [`Square::factor`]: solves for the vector in place.
    pub fn solve(&self, vector: &mut [f64]) {
        for i in 0..self.size {
            let row = self.row(i);
            vector[i] = (vector[i] - dot(&row[..i], &vector[..i])) / row[i];
        }
        for i in (0..self.size).rev() {
            let row = self.row(i);
            vector[i] /= row[i];
            let known = vector[i];
            for (value, factor) in vector[..i].iter_mut().zip(row) {
                *value -= factor * known;
            }
        }
    }

    /// After [`Square::factor`]: the log of the determinant.
    pub fn log_determinant(&self) -> f64 {
        2.0 * (0..self.size)
            .map(|i| libm::log(self.at(i, i)))
            .sum::<f64>()
    }

    /// After [`Square::factor`]: the inverse of the matrix that was factored.
    pub fn inverse(&self) -> Square {
        let size = self.size;
        // columns of the factor's inverse, kept as rows: entry j of row i from i on
        let mut columns = Square::zero(size);
        for i in 0..size {
            let column = columns.row_mut(i);
            column[i] = 1.0 / self.at(i, i);
            for j in i + 1..size {
                let row = self.row(j);
                column[j] = -dot(&row[i..j], &column[i..j]) / row[j];
            }
        }
        let mut inverse = Square::zero(size);
        for i in 0..size {
            for j in 0..=i {
                let value = dot(&columns.row(i)[i..], &columns.row(j)[i..]);
                inverse.set(i, j, value);
                inverse.set(j, i, value);
            }
        }
        inverse
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn example(size: usize) -> Square {
        let mut matrix = Square::zero(size);
        for i in 0..size {
            for j in 0..size {
                let value = 1.0 / (1.0 + i.abs_diff(j) as f64) + if i == j { 2.0 } else { 0.0 };
                matrix.set(i, j, value);
            }
        }
        matrix
    }

    #[test]
    fn solving_undoes_multiplying() {
        for size in [1, 2, 7, 8, 9, 33] {
            let matrix = example(size);
            let truth: Vec<f64> = (0..size).map(|i| i as f64 - 2.5).collect();
            let mut found = matrix.times(&truth);
            let mut factor = matrix.clone();
            factor.factor(1e-12).unwrap();
            factor.solve(&mut found);
            for (x, y) in truth.iter().zip(&found) {
                assert!((x - y).abs() < 1e-11);
            }
            let through = factor.inverse().times(&matrix.times(&truth));
            for (x, y) in truth.iter().zip(&through) {
                assert!((x - y).abs() < 1e-11);
            }
        }
    }

    #[test]
    fn determinant_and_refusal() {
        let mut two = Square {
            size: 2,
            values: vec![4.0, 2.0, 2.0, 3.0],
        };
        let mut flat = Square {
            size: 2,
            values: vec![4.0, 2.0, 2.0, 1.0],
        };
        two.factor(0.0).unwrap();
        assert!((two.log_determinant() - 8.0_f64.ln()).abs() < 1e-15);
        assert_eq!(flat.factor(1e-12), Err(1));
    }
}
