//! Small dense algebra: Cholesky's factor, and what is solved with it.
//! Never a name of the trade.
//! Invariant: a matrix that is not positive definite has no factor, and is said so.

/// The lower factor L of a symmetric A = L·Lᵀ, row by row.
#[derive(Debug, Clone, PartialEq)]
pub struct Lower {
    l: Vec<f64>,
    n: usize,
}

impl Lower {
    /// The factor of `a`, `n` by `n`.
    pub fn of(a: &[f64], n: usize) -> Option<Self> {
        let mut l = vec![0.0; n * n];
        for i in 0..n {
            for j in 0..=i {
                let inner = dot(&l[i * n..i * n + j], &l[j * n..j * n + j]);
                let rest = a[i * n + j] - inner;
                l[i * n + j] = if i == j {
                    if rest <= a[i * n + i].abs() * 1e-13 {
                        return None;
                    }
                    rest.sqrt()
                } else {
                    rest / l[j * n + j]
                };
            }
        }
        Some(Self { l, n })
    }

    /// log |A|.
    pub fn log_det(&self) -> f64 {
        (0..self.n).map(|i| 2.0 * self.l[i * self.n + i].ln()).sum()
    }

    /// y with L·y = b.
    pub fn forward(&self, b: &[f64]) -> Vec<f64> {
        let mut y = vec![0.0; self.n];
        for i in 0..self.n {
            y[i] = (b[i] - dot(&self.l[i * self.n..i * self.n + i], &y[..i])) / self.l[i * self.n + i];
        }
        y
    }

    /// x with Lᵀ·x = y.
    pub fn backward(&self, y: Vec<f64>) -> Vec<f64> {
        let mut x = y;
        for i in (0..self.n).rev() {
            x[i] /= self.l[i * self.n + i];
            for j in 0..i {
                x[j] -= self.l[i * self.n + j] * x[i];
            }
        }
        x
    }

    /// x with A·x = b.
    pub fn solve(&self, b: &[f64]) -> Vec<f64> {
        self.backward(self.forward(b))
    }
}

/// The inner product.
pub fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_solved_solves() {
        let a = [4.0, 2.0, 2.0, 3.0];
        let x = Lower::of(&a, 2).map(|l| l.solve(&[8.0, 7.0]));
        assert!(x.is_some_and(|x| (x[0] - 1.25).abs() < 1e-14 && (x[1] - 1.5).abs() < 1e-14));
        assert!(Lower::of(&a, 2).is_some_and(|l| (l.log_det() - 8f64.ln()).abs() < 1e-14));
        assert_eq!(Lower::of(&[1.0, 1.0, 1.0, 1.0], 2), None);
    }
}
