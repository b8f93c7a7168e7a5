//! Lagrange triangles of any order: nodes, shape functions, quadrature.

use super::quadrature::on_triangle;

/// Shape functions and their derivatives at one place of the reference triangle
/// `(0,0), (1,0), (0,1)`.
#[derive(Debug, Clone)]
pub(super) struct Shape {
    /// Values.
    pub value: Vec<f64>,
    /// Derivatives along the first reference axis.
    pub d1: Vec<f64>,
    /// Derivatives along the second reference axis.
    pub d2: Vec<f64>,
}

/// A quadrature point: its weight and the shape functions there.
#[derive(Debug, Clone)]
pub(super) struct QuadraturePoint {
    pub weight: f64,
    pub shape: Shape,
}

/// A triangle of polynomial order `order` with equally spaced nodes.
///
/// Node order: the three corners, then the inner nodes of edges 0-1, 1-2 and
/// 2-0 in that direction, then the interior.
#[derive(Debug, Clone)]
pub(super) struct Element {
    pub order: usize,
    /// Each node's barycentric position times `order`.
    pub nodes: Vec<[usize; 3]>,
    pub points: Vec<QuadraturePoint>,
    /// Shape functions at the nodes themselves.
    pub at_nodes: Vec<Shape>,
}

impl Element {
    /// An element of `order` 2 or more, with a quadrature exact to degree
    /// `2 order - 2` on straight triangles: enough for the slopes' products.
    pub fn new(order: usize) -> Self {
        let nodes = node_positions(order);
        let mut element = Self {
            order,
            nodes,
            points: Vec::new(),
            at_nodes: Vec::new(),
        };
        element.points = (on_triangle(2 * order - 2).into_iter())
            .map(|([x, y], weight)| QuadraturePoint {
                weight,
                shape: element.shape(x, y),
            })
            .collect();
        element.at_nodes = (0..element.len())
            .map(|i| {
                let [x, y] = element.place(i);
                element.shape(x, y)
            })
            .collect();
        element
    }

    /// Where node `i` lies in the reference triangle.
    #[expect(clippy::cast_precision_loss, reason = "orders are small")]
    pub fn place(&self, i: usize) -> [f64; 2] {
        let at = |n: usize| n as f64 / self.order as f64;
        [at(self.nodes[i][1]), at(self.nodes[i][2])]
    }

    /// Nodes of one element.
    pub fn len(&self) -> usize {
        self.nodes.len()
    }

    /// The element's nodes on one side: its two ends, then those between.
    pub fn edge_nodes(&self, local: usize) -> Vec<usize> {
        let inner = self.order - 1;
        let mut nodes = vec![local, (local + 1) % 3];
        nodes.extend(3 + local * inner..3 + (local + 1) * inner);
        nodes
    }

    /// The place at `t` along a side, and the direction of that side.
    pub fn on_edge(local: usize, t: f64) -> ([f64; 2], [f64; 2]) {
        match local {
            0 => ([t, 0.0], [1.0, 0.0]),
            1 => ([1.0 - t, t], [-1.0, 1.0]),
            _ => ([0.0, 1.0 - t], [0.0, -1.0]),
        }
    }

    /// The shape functions at `(x, y)` of the reference triangle, as products
    /// of the one-dimensional factors in each barycentric coordinate
    /// (Silvester 1969, Int. J. Engng Sci. 7).
    pub fn shape(&self, x: f64, y: f64) -> Shape {
        let barycentric = [1.0 - x - y, x, y];
        let factors = barycentric.map(|l| factors(self.order, l));
        let n = self.len();
        let mut shape = Shape {
            value: Vec::with_capacity(n),
            d1: Vec::with_capacity(n),
            d2: Vec::with_capacity(n),
        };
        for &[i, j, k] in &self.nodes {
            let (a, da) = factors[0][i];
            let (b, db) = factors[1][j];
            let (c, dc) = factors[2][k];
            let first = da * b * c;
            shape.value.push(a * b * c);
            shape.d1.push(a * db * c - first);
            shape.d2.push(a * b * dc - first);
        }
        shape
    }
}

/// `Π (p l - m) / (m + 1)` for `m < i`, with its derivative, for each `i` up to `p`.
fn factors(p: usize, l: f64) -> Vec<(f64, f64)> {
    let mut all = Vec::with_capacity(p + 1);
    all.push((1.0, 0.0));
    let (mut value, mut slope) = (1.0, 0.0);
    #[expect(clippy::cast_precision_loss, reason = "orders are small")]
    for m in 0..p {
        let (p, m) = (p as f64, m as f64);
        let factor = (p * l - m) / (m + 1.0);
        slope = slope * factor + value * p / (m + 1.0);
        value *= factor;
        all.push((value, slope));
    }
    all
}

fn node_positions(p: usize) -> Vec<[usize; 3]> {
    let mut nodes = vec![[p, 0, 0], [0, p, 0], [0, 0, p]];
    nodes.extend((1..p).map(|t| [p - t, t, 0]));
    nodes.extend((1..p).map(|t| [0, p - t, t]));
    nodes.extend((1..p).map(|t| [t, 0, p - t]));
    for i in 1..p {
        for j in 1..p - i {
            nodes.push([p - i - j, i, j]);
        }
    }
    nodes
}
