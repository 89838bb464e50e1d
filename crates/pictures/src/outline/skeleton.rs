//! The numbers one machine differs from another by, and what every machine has: wheels, fork, swingarm, drive.
//!
//! All of it is from memory, for drawing only: no plan, price or check reads a number here.

use super::form::{Form, Shown, Tone, disc, line, ring, sign, solid, tube};
use crate::geometry::{Node, Shape, at};

/// How a wheel is built.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Wheel {
    /// Cast, with this many spokes.
    Cast(u8),
    /// Wire spokes.
    Wire,
}

/// The parametric skeleton. Millimetres; x forward from the rear axle, y up from the ground.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Skeleton {
    pub wheelbase: f64,
    pub front_radius: f64,
    pub rear_radius: f64,
    /// Height of the tyre's side wall.
    pub front_tyre: f64,
    pub rear_tyre: f64,
    pub wheel: Wheel,
    pub front_disc: f64,
    pub rear_disc: f64,
    /// Angle of the steering head from the vertical, degrees.
    pub rake: f64,
    /// Axle to top yoke along the fork.
    pub fork: f64,
    /// Axle to bottom yoke along the fork.
    pub bottom_yoke: f64,
    /// Axle to the top of the lower legs along the fork.
    pub sliders: f64,
    pub fork_width: f64,
    /// Inner tubes below, outer tubes above.
    pub upside_down: bool,
    pub pivot: (f64, f64),
    pub swingarm_width: f64,
    /// Gearbox sprocket and its radius.
    pub sprocket: (f64, f64, f64),
    pub rear_sprocket: f64,
    /// Front mudguard: gap to the tyre, and from where to where in degrees, 0 forward, 90 up.
    pub mudguard: (f64, f64, f64),
    /// Where the carburettors or throttle bodies sit.
    pub carburettors: (f64, f64),
    /// Where the master cylinder on the bar sits.
    pub front_master: (f64, f64),
}

fn polar((x, y): (f64, f64), r: f64, degrees: f64) -> (f64, f64) {
    let a = degrees.to_radians();
    (x + r * a.cos(), y + r * a.sin())
}

fn arc(centre: (f64, f64), r: f64, from: f64, to: f64) -> Vec<Node> {
    (0..=6)
        .map(|i| {
            let (x, y) = polar(centre, r, from + (to - from) * f64::from(i) / 6.0);
            at(x, y)
        })
        .collect()
}

impl Skeleton {
    pub(crate) fn front_axle(&self) -> (f64, f64) {
        (self.wheelbase, self.front_radius)
    }
    pub(crate) fn rear_axle(&self) -> (f64, f64) {
        (0.0, self.rear_radius)
    }
    /// So far up the fork from the axle, and so far forward of it.
    pub(crate) fn up_fork(&self, up: f64, forward: f64) -> Node {
        let (sin, cos) = self.rake.to_radians().sin_cos();
        let (x, y) = self.front_axle();
        // The fork tubes stand a little ahead of the axle's own line on the drawing; it reads better so.
        at(x - up * sin + forward * cos, y + up * cos + forward * sin)
    }

    /// Wheels, tyres and their brakes.
    pub(crate) fn wheels(&self) -> Vec<Form> {
        let (front, rear) = (self.front_axle(), self.rear_axle());
        let mut out = vec![
            self.wheel(
                "rear-wheel",
                10,
                rear,
                self.rear_radius - self.rear_tyre,
                self.rear_disc,
            ),
            ring(
                "rear-tyre",
                11,
                Tone::Ink,
                rear,
                self.rear_radius,
                self.rear_radius - self.rear_tyre,
            ),
            self.wheel(
                "front-wheel",
                12,
                front,
                self.front_radius - self.front_tyre,
                self.front_disc,
            ),
            ring(
                "front-tyre",
                13,
                Tone::Ink,
                front,
                self.front_radius,
                self.front_radius - self.front_tyre,
            ),
        ];
        out.extend(self.front_brake());
        out.extend(self.rear_brake());
        out
    }

    fn wheel(&self, part: &'static str, layer: u8, centre: (f64, f64), rim: f64, brake: f64) -> Form {
        let hub = 52.0;
        let mut wheel = ring(part, layer, Tone::Metal, centre, rim, rim - 26.0).and(Shape::Ring {
            x: centre.0,
            y: centre.1,
            outer: hub,
            inner: 14.0,
        });
        match self.wheel {
            Wheel::Cast(spokes) => {
                for i in 0..spokes {
                    let angle = 90.0 + 360.0 * f64::from(i) / f64::from(spokes);
                    let (a, b) = (polar(centre, hub - 4.0, angle), polar(centre, rim - 22.0, angle));
                    wheel = wheel.and(Shape::Tube(vec![at(a.0, a.1), at(b.0, b.1)], 30.0));
                }
            }
            Wheel::Wire => {
                for i in 0..18 {
                    let angle = 20.0 * f64::from(i);
                    let lean = if i % 2 == 0 { 28.0 } else { -28.0 };
                    let (a, b) = (polar(centre, hub, angle + lean), polar(centre, rim - 26.0, angle));
                    wheel = wheel.detail(Shape::Open(vec![at(a.0, a.1), at(b.0, b.1)]));
                }
            }
        }
        let (x, y) = centre;
        if brake > 0.0 {
            wheel = wheel.detail(Shape::Ring {
                x,
                y,
                outer: brake,
                inner: brake - 32.0,
            });
        }
        wheel
    }

    fn front_brake(&self) -> Vec<Form> {
        let axle = self.front_axle();
        let r = self.front_disc - 14.0;
        // Behind the fork leg, where the caliper is bolted to it.
        let angle = 90.0 + self.rake + 34.0;
        let caliper = |layer| {
            tube(
                "",
                layer,
                Tone::Body,
                62.0,
                &arc(axle, r, angle - 22.0, angle + 22.0),
            )
        };
        let named = |part, form: Form| Form {
            part: Some(part),
            ..form
        };
        let (px, py) = polar(axle, r, angle);
        let pads = |part| Form {
            sign: true,
            ..disc(part, 17, Tone::Dark, (px, py), 17.0)
        };
        let (mx, my) = self.front_master;
        let hang = self.up_fork(self.bottom_yoke, -45.0);
        let (cx, cy) = polar(axle, r + 20.0, angle - 16.0);
        let (sx, sy) = polar(axle, 78.0, 200.0);
        vec![
            named("front-caliper-right", caliper(16)).right(),
            named("front-caliper-left", caliper(16)).left(),
            named("caliper", caliper(16)).left(),
            pads("front-pads-right").right(),
            pads("front-pads-left").left(),
            line("front-hose", 18, &[at(cx, cy), at(hang.x, hang.y), at(mx, my)]),
            Form {
                sign: true,
                ..disc("front-speed-sensor", 18, Tone::Body, (sx, sy), 15.0)
            }
            .left(),
            Form {
                sign: true,
                ..disc(
                    "speedo-drive",
                    14,
                    Tone::Body,
                    (axle.0 - 18.0, axle.1 + 34.0),
                    16.0,
                )
            }
            .left(),
            line(
                "speedo-cable",
                19,
                &[
                    at(axle.0 - 18.0, axle.1 + 34.0),
                    self.up_fork(self.bottom_yoke * 0.6, 32.0),
                    self.up_fork(self.fork + 40.0, 60.0),
                ],
            )
            .left(),
        ]
    }

    fn rear_brake(&self) -> Vec<Form> {
        let axle = self.rear_axle();
        let r = self.rear_disc - 12.0;
        let (px, py) = polar(axle, r, 62.0);
        let forward = at(self.pivot.0 - 40.0, self.pivot.1 + 60.0);
        vec![
            tube("rear-caliper", 24, Tone::Body, 58.0, &arc(axle, r, 42.0, 84.0)).right(),
            Form {
                sign: true,
                ..disc("rear-pads", 25, Tone::Dark, (px, py), 16.0)
            }
            .right(),
            line(
                "rear-hose",
                25,
                &[
                    at(px + 10.0, py + 24.0),
                    at(axle.0 + 220.0, axle.1 + 60.0),
                    forward,
                ],
            )
            .right(),
            Form {
                sign: true,
                ..disc(
                    "rear-speed-sensor",
                    24,
                    Tone::Body,
                    polar(axle, 82.0, 215.0),
                    15.0,
                )
            }
            .right(),
            // A drum: the panel closes it on the right, the shoes are inside.
            Form {
                sign: true,
                ..disc("rear-brake-panel", 21, Tone::Body, axle, 66.0)
            }
            .right(),
            Form {
                sign: true,
                ..ring("rear-shoes", 20, Tone::Dark, axle, 54.0, 34.0)
            }
            .right(),
        ]
    }

    /// Fork, yokes and front mudguard.
    pub(crate) fn steering(&self) -> Vec<Form> {
        let w = self.fork_width;
        let (low, high) = if self.upside_down {
            (w - 14.0, w + 8.0)
        } else {
            (w + 10.0, w - 12.0)
        };
        let up = |u| self.up_fork(u, 0.0);
        let legs = tube(
            "fork-legs",
            26,
            Tone::Metal,
            high,
            &[up(self.sliders), up(self.fork - 6.0)],
        )
        .and(Shape::Tube(vec![up(-8.0), up(self.sliders + 2.0)], low));
        let yoke = |part, layer, u: f64| {
            tube(
                part,
                layer,
                Tone::Body,
                44.0,
                &[self.up_fork(u, -78.0), self.up_fork(u, 38.0)],
            )
        };
        vec![
            legs,
            tube(
                "fork-gaiters",
                27,
                Tone::Dark,
                w + 16.0,
                &[up(self.sliders - 10.0), up(self.bottom_yoke - 24.0)],
            ),
            yoke("bottom-yoke", 28, self.bottom_yoke),
            yoke("top-yoke", 29, self.fork),
            self.front_mudguard(),
        ]
    }

    fn front_mudguard(&self) -> Form {
        let (gap, from, to) = self.mudguard;
        let axle = self.front_axle();
        let r = self.front_radius + gap;
        let mut nodes = arc(axle, r, from, to);
        nodes.extend(arc(axle, r + 26.0, to, from));
        for place in [0, 6, 7, 13] {
            if let Some(node) = nodes.get_mut(place) {
                node.corner = true;
            }
        }
        let mid = polar(axle, r, (from + to) / 2.0);
        let foot = self.up_fork(self.sliders * 0.55, 0.0);
        solid("front-mudguard", 25, Tone::Body, &nodes).detail(Shape::Open(vec![at(mid.0, mid.1), foot]))
    }

    /// Swingarm and what turns the rear wheel, on the left.
    pub(crate) fn swingarm(&self) -> Vec<Form> {
        let axle = self.rear_axle();
        let (px, py) = self.pivot;
        vec![
            tube(
                "swingarm",
                22,
                Tone::Metal,
                self.swingarm_width,
                &[at(axle.0 - 26.0, axle.1), at(px, py)],
            )
            .detail(Shape::Disc {
                x: px,
                y: py,
                r: 16.0,
            })
            .detail(Shape::Disc {
                x: axle.0,
                y: axle.1,
                r: 18.0,
            }),
        ]
    }

    /// Chain, sprockets and guard.
    pub(crate) fn chain(&self) -> Vec<Form> {
        let axle = self.rear_axle();
        let (sx, sy, sr) = self.sprocket;
        let rr = self.rear_sprocket;
        let chain = tube(
            "chain",
            24,
            Tone::Dark,
            16.0,
            &[at(axle.0, axle.1 + rr), at(sx, sy + sr)],
        )
        .and(Shape::Tube(vec![at(axle.0, axle.1 - rr), at(sx, sy - sr)], 16.0));
        let top = |x: f64, y: f64| at(x, y + axle.1 + rr);
        vec![
            ring("rear-sprocket", 23, Tone::Metal, axle, rr, rr - 30.0).left(),
            chain.left(),
            disc("front-sprocket", 34, Tone::Metal, (sx, sy), sr + 6.0).left(),
            solid(
                "chain-guard",
                25,
                Tone::Body,
                &[
                    top(-20.0, 14.0),
                    top(sx * 0.3, 26.0),
                    top(sx * 0.62, 14.0),
                    top(sx * 0.62, -16.0),
                    top(-10.0, -12.0),
                ],
            )
            .left(),
            tube(
                "belt",
                24,
                Tone::Dark,
                20.0,
                &[at(axle.0, axle.1 + rr), at(sx, sy + sr)],
            )
            .and(Shape::Tube(vec![at(axle.0, axle.1 - rr), at(sx, sy - sr)], 20.0))
            .left(),
        ]
    }

    /// The cable of the throttle, on the right, and of the clutch, on the left.
    pub(crate) fn cables(&self, clutch: (i32, i32)) -> Vec<Form> {
        let (mx, my) = self.front_master;
        let (cx, cy) = self.carburettors;
        let neck = self.up_fork(self.fork - 60.0, -70.0);
        vec![
            line(
                "throttle-cables",
                30,
                &[at(mx - 30.0, my - 6.0), neck, at(cx, cy + 20.0)],
            )
            .right(),
            line(
                "clutch-cable",
                30,
                &[
                    at(mx - 30.0, my - 6.0),
                    neck,
                    at(f64::from(clutch.0), f64::from(clutch.1)),
                ],
            )
            .left(),
        ]
    }
}

/// Signs in a row of names and places.
pub(crate) fn signs(layer: u8, shown: Shown, places: &[(&'static str, i32, i32)]) -> Vec<Form> {
    places
        .iter()
        .map(|(part, x, y)| sign(part, layer, *x, *y).on(shown))
        .collect()
}
