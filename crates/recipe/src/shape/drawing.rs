//! Drawings as data: marks in millimetres, x to the right, y down. Who draws them chooses the
//! scale; all marks of one drawing share it.

/// What a mark is of. Told apart by hatch and line as well as by colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Look {
    /// Dough.
    Dough,
    /// Cake.
    Cake,
    /// What is spread on it.
    Filling,
    /// Dough after it has risen: an outline round the first.
    Risen,
    /// A pan or tin.
    Pan,
    /// A board under a cake.
    Board,
    /// Where a knife or cutter goes.
    Cut,
    /// What is cut off or re-rolled.
    Scrap,
    /// Lining paper.
    Paper,
    /// A line that only leads the eye.
    Guide,
}

impl Look {
    /// Its name in a key.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dough => "dough",
            Self::Cake => "cake",
            Self::Filling => "filling",
            Self::Risen => "risen",
            Self::Pan => "pan",
            Self::Board => "board",
            Self::Cut => "cut",
            Self::Scrap => "scrap",
            Self::Paper => "paper",
            Self::Guide => "guide",
        }
    }
}

/// How words hang on their point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hang {
    /// From their start.
    Start,
    /// In the middle.
    Middle,
    /// From their end.
    End,
}

/// A mark; all figures in millimetres.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A closed outline.
    Area {
        /// Its corners.
        points: Vec<(f64, f64)>,
        /// What it is of.
        look: Look,
    },
    /// A circle.
    Circle {
        /// Its middle.
        at: (f64, f64),
        /// Its radius.
        radius: f64,
        /// What it is of.
        look: Look,
    },
    /// An open line.
    Line {
        /// Its points.
        points: Vec<(f64, f64)>,
        /// What it is of.
        look: Look,
    },
    /// A band of dough seen from above, as wide as `wide`.
    Band {
        /// Its middle line.
        points: Vec<(f64, f64)>,
        /// Its width.
        wide: f64,
        /// What it is of.
        look: Look,
    },
    /// Words inside the drawing.
    Words {
        /// Where.
        at: (f64, f64),
        /// What.
        words: String,
        /// How they hang.
        hang: Hang,
    },
    /// A measured side: a line with ends and its words beside it, drawn outside the shape.
    Side {
        /// From.
        from: (f64, f64),
        /// To.
        to: (f64, f64),
        /// What it is, with unit.
        words: String,
    },
}

/// A drawing to scale.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// Which of a shape's drawings: `sheet`, `end`, `above`, `side`.
    pub key: &'static str,
    /// What it shows.
    pub title: String,
    /// What it shows, in sentences, for those who do not see it.
    pub desc: String,
    /// Width of what is drawn, mm.
    pub wide: f64,
    /// Height of what is drawn, mm.
    pub high: f64,
    /// The marks, those behind first.
    pub marks: Vec<Mark>,
}

impl Drawing {
    pub(crate) fn new(key: &'static str, title: impl Into<String>, wide: f64, high: f64) -> Self {
        Self {
            key,
            title: title.into(),
            desc: String::new(),
            wide,
            high,
            marks: Vec::new(),
        }
    }
    pub(crate) fn rect(&mut self, look: Look, x: f64, y: f64, w: f64, h: f64) {
        self.marks.push(Mark::Area {
            points: vec![(x, y), (x + w, y), (x + w, y + h), (x, y + h)],
            look,
        });
    }
    pub(crate) fn area(&mut self, look: Look, points: Vec<(f64, f64)>) {
        self.marks.push(Mark::Area { points, look });
    }
    pub(crate) fn circle(&mut self, look: Look, at: (f64, f64), radius: f64) {
        self.marks.push(Mark::Circle { at, radius, look });
    }
    pub(crate) fn line(&mut self, look: Look, points: Vec<(f64, f64)>) {
        self.marks.push(Mark::Line { points, look });
    }
    pub(crate) fn words(&mut self, at: (f64, f64), hang: Hang, words: impl Into<String>) {
        self.marks.push(Mark::Words {
            at,
            words: words.into(),
            hang,
        });
    }
    pub(crate) fn side(&mut self, from: (f64, f64), to: (f64, f64), words: impl Into<String>) {
        self.marks.push(Mark::Side {
            from,
            to,
            words: words.into(),
        });
    }
}
