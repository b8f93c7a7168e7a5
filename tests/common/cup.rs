//! A mixed resin heating itself in a beaker, by the classical Runge-Kutta method in even steps: none of
//! our code. The equations and the figures of the resin B are those of `epoxy.csv`.

/// A resin like `B_fast`, at its own speed and density.
#[derive(Debug, Clone, Copy)]
pub struct Beaker {
    /// k2 at 23 °C, 1/s.
    pub k2: f64,
    /// Of the mix, kg/m3.
    pub density: f64,
}

const GEL: f64 = 0.577_350_27;
const STEP: f64 = 0.5;

impl Beaker {
    /// Minutes to its gel and until it is 10 K above the room.
    pub fn minutes(&self, grams: f64, celsius: f64) -> (f64, f64) {
        let room = celsius + 273.15;
        let mass = grams / 1000.0;
        // as high as it is wide, 10 W/(m2 K) into still air, 0.20 W/(m K) inside
        let across = (4.0 * mass / self.density / std::f64::consts::PI).cbrt();
        let area = 1.5 * std::f64::consts::PI * across * across;
        let u = 1.0 / (0.1 + across / 8.0 / 0.20);
        let (rise, loss) = (350e3 / 1900.0, u * area / (mass * 1900.0));
        let speed = |at_23: f64, energy: f64, kelvin: f64| {
            at_23 * (-energy / 8.314_462_618 * (1.0 / kelvin - 1.0 / 296.15)).exp()
        };
        let slope = |[a, warmer]: [f64; 2]| {
            let kelvin = room + warmer;
            let k1 = speed(0.05 * self.k2, 76.0067e3, kelvin);
            let k2 = speed(self.k2, 53.4204e3, kelvin);
            let rate = (k1 + k2 * a) * (1.0 - a).powi(2);
            [rate, rise * rate - loss * warmer]
        };
        let along = |y: [f64; 2], d: [f64; 2], h: f64| [y[0] + h * d[0], y[1] + h * d[1]];
        let (mut y, mut seconds, mut warm) = ([0.0, 0.0], 0.0, f64::INFINITY);
        loop {
            let first = slope(y);
            let second = slope(along(y, first, STEP / 2.0));
            let third = slope(along(y, second, STEP / 2.0));
            let fourth = slope(along(y, third, STEP));
            let mean = [0, 1].map(|i| (first[i] + 2.0 * (second[i] + third[i]) + fourth[i]) / 6.0);
            let next = along(y, mean, STEP);
            let crosses = |of: usize, at: f64| seconds + STEP * (at - y[of]) / (next[of] - y[of]);
            if y[1] < 10.0 && next[1] >= 10.0 {
                warm = crosses(1, 10.0) / 60.0;
            }
            if next[0] >= GEL {
                return (crosses(0, GEL) / 60.0, warm);
            }
            (y, seconds) = (next, seconds + STEP);
        }
    }

    /// The resin of this density of which so many grams gel at 23 °C after so many minutes.
    pub fn labelled(density: f64, grams: f64, minutes: f64) -> Self {
        let (mut slow, mut fast) = (1e-5, 1e-2);
        for _ in 0..60 {
            let k2 = f64::midpoint(slow, fast);
            let gels = Self { k2, density }.minutes(grams, 23.0).0;
            if gels > minutes {
                slow = k2;
            } else {
                fast = k2;
            }
        }
        Self { k2: slow, density }
    }
}
