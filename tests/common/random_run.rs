//! Run files at random, kept as choices so that one of them can be changed.

use std::fmt::Write;

use proptest::prelude::*;

/// What is chosen of a run file.
#[expect(clippy::struct_excessive_bools, reason = "each is a choice of its own")]
#[derive(Debug, Clone)]
pub struct Choice {
    pieces: Vec<Piece>,
    /// Hands-on seconds of each step.
    seconds: [u32; 5],
    coats: u32,
    spoilage: u32,
    bad: u32,
    /// Side in mm, and how many.
    pub tray: Option<(u32, u32)>,
    /// A second kind of tray.
    second: bool,
    /// When work is done on weekdays, and on weekends.
    spells: (usize, usize),
    /// Whether each day's work goes on for longer.
    pub longer: bool,
    /// Days off, from 2027-06-14 on, every other day.
    pub off: u32,
    first_run: bool,
    inspect: bool,
    pub celsius: u32,
    pub humidity: u32,
    /// How much colder it is at night, if it is.
    pub night: Option<u32>,
    /// Whether pieces are worked on between their coats.
    between: bool,
    /// Days before 2027-07-03 from which bottles in stock are past their date.
    best_before: Option<u32>,
    pub blanks_in_stock: u32,
    pub bottles_in_stock: u32,
    selling: bool,
    /// Whether it must be ready by 2027-07-03.
    pub ready_by: bool,
    /// Days before that, from which work can begin.
    pub start: Option<u32>,
}

#[derive(Debug, Clone)]
struct Piece {
    count: u32,
    blank: usize,
    /// Which of the steps.
    steps: [bool; 5],
    magnet: bool,
    cents: Option<u32>,
}

const STEPS: [&str; 5] = ["seal", "dome", "cast", "pin", "bag"];
const BLANKS: [&str; 4] = [
    "round = \"22 mm\"",
    "round = \"38 mm\"",
    "rectangle = [\"20 mm\", \"30 mm\"], corner = \"3 mm\"",
    "rectangle = [\"25 mm\", \"25 mm\"], corner = \"2 mm\"",
];
const WEEKDAYS: [(&str, &str); 4] = [
    ("\"18:30-21:30\"", "\"17:30-22:00\""),
    (
        "\"09:00-12:30\", \"14:00-17:00\"",
        "\"08:30-12:30\", \"13:30-18:00\"",
    ),
    ("\"19:00-20:30\"", "\"10:00-11:00\", \"19:00-21:00\""),
    ("\"06:30-08:00\", \"20:00-22:30\"", "\"06:00-22:30\""),
];
const WEEKENDS: [(&str, &str); 3] = [
    ("", "\"10:00-11:00\""),
    ("\"10:00-16:00\"", "\"09:30-16:00\""),
    ("\"09:00-12:00\", \"13:00-17:00\"", "\"09:00-17:00\""),
];

prop_compose! {
    fn piece()(
        count in prop_oneof![3 => 1u32..40, 1 => 40u32..160],
        blank in prop_oneof![2 => 0usize..2, 1 => 2usize..4],
        steps in any::<[bool; 5]>(),
        magnet in any::<bool>(),
        cents in prop::option::of(40u32..900),
    ) -> Piece {
        let mut steps = steps;
        // a piece is flooded once, and something is done to it
        steps[2] &= !steps[1];
        steps[0] |= !steps.contains(&true);
        Piece { count, blank, steps, magnet, cents }
    }
}

prop_compose! {
    /// A run file that is good, whether it can be done or not.
    pub fn choice()(
        pieces in prop::collection::vec(piece(), 1..4),
        seconds in prop::array::uniform5(5u32..120),
        rates in (1u32..3, 0u32..12, 0u32..10),
        tray in prop::option::weighted(0.8, (150u32..420, 1u32..7)),
        flags in any::<[bool; 6]>(),
        spells in (0usize..4, 0usize..3),
        off in 0u32..9,
        air in (15u32..25, 40u32..70),
        stock in (0u32..30, 0u32..2, prop::option::of(0u32..40)),
        start in prop::option::weighted(0.3, 2u32..30),
    ) -> Choice {
        Choice {
            pieces,
            seconds,
            coats: rates.0,
            spoilage: rates.1,
            bad: rates.2,
            tray,
            second: flags[0] && flags[1],
            spells,
            longer: false,
            off,
            first_run: flags[2],
            inspect: flags[3],
            celsius: air.0,
            humidity: air.1,
            night: None,
            between: flags[5],
            best_before: stock.2,
            blanks_in_stock: stock.0,
            bottles_in_stock: stock.1,
            selling: flags[4],
            ready_by: true,
            start,
        }
    }
}

impl Choice {
    /// Makes with the glaze what was to be made with resin, which has less time in a warm room.
    pub fn without_resin(&mut self) {
        for piece in &mut self.pieces {
            piece.steps[1] |= piece.steps[2];
            piece.steps[2] = false;
        }
    }

    /// The run file.
    pub fn file(&self) -> String {
        let mut file = String::from("[run]\n");
        let line = |file: &mut String, words: std::fmt::Arguments| {
            writeln!(file, "{words}").expect("a string takes all");
        };
        if self.ready_by {
            line(&mut file, format_args!("ready_by = 2027-07-03T08:00:00"));
        }
        if let Some(days) = self.start {
            let day = jiff::civil::date(2027, 7, 3) - jiff::Span::new().days(days);
            line(&mut file, format_args!("start = {day}T07:00:00"));
        }
        for (index, piece) in self.pieces.iter().enumerate() {
            let order = if self.between {
                [0, 3, 1, 2, 4]
            } else {
                [0, 1, 2, 3, 4]
            };
            let steps = order.into_iter().filter(|&step| piece.steps[step]);
            let steps: Vec<String> = steps.map(|step| format!("{:?}", STEPS[step])).collect();
            line(
                &mut file,
                format_args!(
                    "[[piece]]\nname = \"piece {index}\"\ncount = {}\nblank = \"blank {}\"\nsteps = [{}]\nmagnet = {}",
                    piece.count,
                    piece.blank,
                    steps.join(", "),
                    piece.magnet
                ),
            );
            if let Some(cents) = piece.cents {
                line(
                    &mut file,
                    format_args!("price = {}.{:02}", cents / 100, cents % 100),
                );
            }
        }
        for (index, outline) in BLANKS.iter().enumerate() {
            line(
                &mut file,
                format_args!(
                    "[[blank]]\nname = \"blank {index}\"\noutline = {{ {outline} }}\nporous = false\nbad = \"{} %\"\nhave = {}\npack = {{ of = 10, price = 3.20 }}\ndelivery = \"3 days\"",
                    self.bad, self.blanks_in_stock
                ),
            );
        }
        let best_before = self.best_before.map_or_else(String::new, |days| {
            let day = jiff::civil::date(2027, 7, 3) - jiff::Span::new().days(days);
            format!(", best_before = {day}")
        });
        for (name, family, ml) in [
            ("sealer", "water-based sealer", 50),
            ("glaze", "water-based dome glaze", 60),
            ("resin", "two-part dome epoxy", 100),
        ] {
            line(
                &mut file,
                format_args!(
                    "[[coating]]\nname = \"{name}\"\nfamily = \"{family}\"\nbottle = {{ holds = \"{ml} mL\", price = 7.10, have = {}{best_before} }}",
                    self.bottles_in_stock
                ),
            );
        }
        file += &self.steps();
        file += &self.shop();
        file
    }

    fn steps(&self) -> String {
        let own = [
            format!("coating = \"sealer\"\ncoats = {}", self.coats),
            "coating = \"glaze\"\nfill = { share = \"45 %\" }".to_owned(),
            "coating = \"resin\"\nfill = { share = \"45 %\" }".to_owned(),
            match self.coats {
                1 => String::new(),
                2 => "needs = \"handle\"".to_owned(),
                _ => "needs = \"through\"".to_owned(),
            },
            String::new(),
        ];
        let steps = STEPS.iter().zip(own).zip(self.seconds);
        let steps = steps.map(|((name, own), seconds)| {
            format!(
                "[[step]]\nname = \"{name}\"\n{own}\nhands_on = \"{seconds} s\"\nset_up = \"4 min\"\nclean_up = \"3 min\"\nspoilage = \"{} %\"\n",
                self.spoilage
            )
        });
        steps.collect()
    }

    /// The room, the trays, the hours, the fair.
    fn shop(&self) -> String {
        let mut file = format!(
            "[room]\ntemperature = \"{} C\"\nhumidity = \"{} %\"\n",
            self.celsius, self.humidity
        );
        if let Some(colder) = self.night {
            let night = self.celsius - colder;
            let night = format!("night = [\"{night} C\", \"{} %\"]\n", self.humidity);
            file += &night;
        }
        if self.inspect {
            file += "[inspect]\nhands_on = \"10 s\"\nagain_after = \"36 h\"\nlate = \"1 %\"\n";
        }
        if let Some((side, count)) = self.tray {
            let tray = |name: &str, side: u32, count: u32| {
                format!(
                    "[[tray]]\nname = \"{name}\"\nsize = [\"{side} mm\", \"300 mm\"]\ncount = {count}\n"
                )
            };
            file += &tray("board", side, count);
            if self.second {
                file += &tray("tin", 200, 2);
            }
        }
        let pick = |(short, long): (&str, &str)| {
            if self.longer {
                long.to_owned()
            } else {
                short.to_owned()
            }
        };
        let off: Vec<String> = (0..self.off)
            .map(|day| format!("2027-06-{}", 14 + 2 * day))
            .collect();
        let hours = format!(
            "[hours]\nweekdays = [{}]\nweekend = [{}]\noff = [{}]\nawake = \"06:00-23:30\"\nfirst_run = {}\n",
            pick(WEEKDAYS[self.spells.0]),
            pick(WEEKENDS[self.spells.1]),
            off.join(", "),
            self.first_run
        );
        file += &hours;
        if self.selling {
            file += "[selling]\ncurrency = \"EUR\"\nstall_fee = 45.00\ntravel = 14.00\nkit = [{ name = \"gazebo\", price = 160.00, fairs = 16 }]\nat_stall = \"7 h\"\nlabour = 14.00\ncard_fee = \"1.9 %\"\nsale_fee = 0.10\npieces_per_sale = 1.4\nsales_tax = \"7 %\"\nsold = \"80 %\"\n";
        }
        file
    }
}
