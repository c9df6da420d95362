//! Equations as data: sums of products of unknowns and inputs, with exact derivatives.

/// Something an equation is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Var {
    /// An unknown, by its place in the case.
    Unknown(usize),
    /// An input, by its place in the case.
    Input(usize),
}

/// Where the unknowns and inputs stand at the moment.
pub(super) struct Point<'a> {
    pub(super) unknowns: &'a [f64],
    pub(super) inputs: &'a [f64],
}

impl Point<'_> {
    fn at(&self, var: Var) -> f64 {
        let found = match var {
            Var::Unknown(place) => self.unknowns.get(place),
            Var::Input(place) => self.inputs.get(place),
        };
        // A foreign id is refused before anything is evaluated; should one slip through, the sum must not look sound.
        found.copied().unwrap_or(f64::NAN)
    }
}

#[derive(Debug, Clone, PartialEq)]
struct Product {
    factor: f64,
    vars: Vec<Var>,
}

/// A sum of products.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Form {
    products: Vec<Product>,
}

impl Form {
    pub(super) fn constant(value: f64) -> Form {
        let mut form = Form::default();
        form.product(value, Vec::new());
        form
    }

    pub(super) fn add(&mut self, factor: f64, var: Var) {
        self.product(factor, vec![var]);
    }

    pub(super) fn product(&mut self, factor: f64, vars: Vec<Var>) {
        self.products.push(Product { factor, vars });
    }

    pub(super) fn vars(&self) -> impl Iterator<Item = Var> + '_ {
        self.products.iter().flat_map(|product| product.vars.iter().copied())
    }

    pub(super) fn value(&self, point: &Point<'_>) -> f64 {
        self.products
            .iter()
            .map(|product| product.vars.iter().fold(product.factor, |so_far, var| so_far * point.at(*var)))
            .sum()
    }

    /// Calls `take` with every partial derivative; one variable may come several times, to be summed.
    pub(super) fn slopes(&self, point: &Point<'_>, mut take: impl FnMut(Var, f64)) {
        for product in &self.products {
            for (place, var) in product.vars.iter().enumerate() {
                let others = product.vars.iter().enumerate().filter(|(other, _)| *other != place);
                take(*var, others.fold(product.factor, |so_far, (_, other)| so_far * point.at(*other)));
            }
        }
    }
}

/// What an equation is there for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    /// A reading under head.
    Reading,
    /// What is known of an offset or of the level's rate.
    State,
    /// The allowance on the sensor's zero.
    Allowance,
    /// Part of a reference.
    Reference(usize),
}

/// An equation `form = 0`.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Equation {
    pub(super) role: Role,
    pub(super) form: Form,
    /// How many pascals one unit of the form is worth, roughly: puts lengths and pressures on one footing.
    pub(super) worth: f64,
}
