//! The energy of the leaning surface at a point, with its derivatives.

/// The lean `s` and its derivatives at a point.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Lean {
    pub s: [f64; 2],
    /// `dx[i] = ∂sᵢ/∂x`.
    pub dx: [f64; 2],
    /// `dy[i] = ∂sᵢ/∂y`.
    pub dy: [f64; 2],
}

/// What acts on the liquid: its weight, and the pressure under it, all over `γ`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pull {
    /// Weight toward the top, `B cos β`, per mm².
    pub down: f64,
    /// Weight along the top, toward where it is lowest, times -1: `B sin β` uphill, per mm².
    pub uphill: [f64; 2],
    /// `p₀/γ` over the origin, per mm.
    pub pressure: f64,
}

impl Pull {
    /// The potential `g(w)` of a column of height `w` over the place `at`, with
    /// its first and second derivatives:
    ///
    /// ```text
    /// g = (½ B cos β w + a·x + w a·s - P) w,    a = B sin β uphill
    /// ```
    ///
    /// for the divergence theorem makes `∭ z dV = ∮ ½ z² n_z dS` and
    /// `∭ x dV = ∮ x z n_z dS`.
    fn potential(&self, at: [f64; 2], s: [f64; 2], w: f64) -> [f64; 3] {
        let [a1, a2] = self.uphill;
        let (place, lean) = (a1 * at[0] + a2 * at[1], a1 * s[0] + a2 * s[1]);
        let p = place - self.pressure;
        [
            (0.5 * self.down * w + lean * w + p) * w,
            self.down * w + 2.0 * lean * w + p,
            self.down + 2.0 * lean,
        ]
    }
}

/// The energy density and its derivatives by `(w, w_x, w_y)`.
pub(super) struct Density {
    pub volume: f64,
    pub surface: f64,
    pub force: [f64; 3],
    pub swell: [f64; 3],
    /// The area's normal `N`, of length one, and its derivatives.
    unit: [f64; 3],
    dn: [[f64; 3]; 3],
    /// Its second derivatives: by w twice, w and `w_x`, w and `w_y` (the others vanish).
    ddn: [[f64; 3]; 3],
    /// The potential with its derivatives.
    g: [f64; 3],
    n3: f64,
}

impl Density {
    #[inline]
    pub fn at(place: [f64; 2], lean: &Lean, [w, wx, wy]: [f64; 3], pull: Pull) -> Self {
        let Lean {
            s: [s1, s2],
            dx: [s1x, s2x],
            dy: [s1y, s2y],
        } = *lean;
        let (div, det) = (s1x + s2y, s1x * s2y - s2x * s1y);
        let (a, b) = (s1 * s2y - s2 * s1y, s2 * s1x - s1 * s2x);
        // N and its first derivatives, component by component.
        let n = [
            -wx + w * (s2x * wy - s2y * wx),
            -wy + w * (s1y * wx - s1x * wy),
            1.0 + s1 * wx + s2 * wy + w * (div + a * wx + b * wy + det * w),
        ];
        let dn = [
            [s2x * wy - s2y * wx, -1.0 - s2y * w, s2x * w],
            [s1y * wx - s1x * wy, s1y * w, -1.0 - s1x * w],
            [
                div + a * wx + b * wy + 2.0 * det * w,
                s1 + a * w,
                s2 + b * w,
            ],
        ];
        let ddn = [[0.0, -s2y, s2x], [0.0, s1y, -s1x], [2.0 * det, a, b]];
        let size = (n[0] * n[0] + n[1] * n[1] + n[2] * n[2]).sqrt();
        let unit = [n[0] / size, n[1] / size, n[2] / size];
        let [g, dg, ddg] = pull.potential(place, lean.s, w);
        let (mut force, mut swell) = ([n[2] * dg, 0.0, 0.0], [n[2], 0.0, 0.0]);
        for i in 0..3 {
            force[i] += along(&unit, &dn, i) + dn[2][i] * g;
            swell[i] += w * dn[2][i];
        }
        Self {
            volume: w * n[2],
            surface: size,
            force,
            swell,
            unit,
            dn,
            ddn,
            g: [g, dg, ddg],
            n3: n[2],
        }
    }

    /// The second derivatives.
    #[inline]
    pub fn stiffness(&self) -> [[f64; 3]; 3] {
        let Self { unit, dn, ddn, .. } = self;
        let [g, dg, ddg] = self.g;
        let per_surface = 1.0 / self.surface;
        let pushes = [along(unit, dn, 0), along(unit, dn, 1), along(unit, dn, 2)];
        let mut stiffness = [[0.0; 3]; 3];
        for i in 0..3 {
            for j in 0..3 {
                let dots = dn[0][i] * dn[0][j] + dn[1][i] * dn[1][j] + dn[2][i] * dn[2][j];
                stiffness[i][j] = (dots - pushes[i] * pushes[j]) * per_surface;
            }
        }
        for k in 0..3 {
            let both = along(unit, ddn, k) + ddn[2][k] * g + dn[2][k] * dg;
            stiffness[0][k] += both;
            if k > 0 {
                stiffness[k][0] += both;
            }
        }
        stiffness[0][0] += dn[2][0] * dg + self.n3 * ddg;
        stiffness
    }
}

/// A derivative of the normal, along the normal.
#[inline]
fn along(unit: &[f64; 3], derivatives: &[[f64; 3]; 3], by: usize) -> f64 {
    unit[0] * derivatives[0][by] + unit[1] * derivatives[1][by] + unit[2] * derivatives[2][by]
}

/// How the force on a leaning column changes with a tilt: the derivatives by
/// `(w, w_x, w_y)` of `N₃ g` with `g = (a·x + w a·s) w`, for a unit of `a` toward
/// `way`.
pub(super) fn tilt_force(
    place: [f64; 2],
    lean: &Lean,
    [w, wx, wy]: [f64; 3],
    way: [f64; 2],
) -> [f64; 3] {
    let unit = Pull {
        down: 0.0,
        uphill: way,
        pressure: 0.0,
    };
    let [g, dg, _] = unit.potential(place, lean.s, w);
    let Lean {
        s: [s1, s2],
        dx: [s1x, s2x],
        dy: [s1y, s2y],
    } = *lean;
    let (div, det) = (s1x + s2y, s1x * s2y - s2x * s1y);
    let (a, b) = (s1 * s2y - s2 * s1y, s2 * s1x - s1 * s2x);
    let inner = div + a * wx + b * wy;
    let n3 = 1.0 + s1 * wx + s2 * wy + w * (inner + det * w);
    [
        n3 * dg + (inner + 2.0 * det * w) * g,
        (s1 + a * w) * g,
        (s2 + b * w) * g,
    ]
}
