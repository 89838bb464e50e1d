//! Tiny trainer: a small machine of a dozen parts, for learning the tool.

use super::super::drawing::Drawing;
use super::super::form::{Form, Tone, disc, solid, tube};
use super::super::skeleton::{Skeleton, Wheel};
use crate::geometry::{Bounds, Shape, k, s};

const SKELETON: Skeleton = Skeleton {
    wheelbase: 1080.0,
    front_radius: 235.0,
    rear_radius: 235.0,
    front_tyre: 70.0,
    rear_tyre: 74.0,
    wheel: Wheel::Cast(3),
    front_disc: 92.0,
    rear_disc: 0.0,
    rake: 27.0,
    fork: 640.0,
    bottom_yoke: 490.0,
    sliders: 260.0,
    fork_width: 46.0,
    upside_down: false,
    pivot: (380.0, 300.0),
    swingarm_width: 46.0,
    sprocket: (440.0, 300.0, 32.0),
    rear_sprocket: 80.0,
    mudguard: (24.0, 50.0, 150.0),
    carburettors: (470.0, 480.0),
    front_master: (760.0, 900.0),
};

pub(super) fn drawing() -> Drawing {
    // This sheet has no tyres apart from the wheels.
    let bare = |f: Form| Form {
        part: f.part.filter(|p| !p.ends_with("-tyre")),
        ..f
    };
    let mut forms: Vec<Form> = SKELETON.wheels().into_iter().map(bare).collect();
    forms.extend(SKELETON.steering().into_iter().map(|f| Form { part: None, ..f }));
    forms.extend(SKELETON.swingarm().into_iter().map(|f| Form { part: None, ..f }));
    forms.extend(body());
    Drawing {
        view: Bounds::new(-330.0, -30.0, 1370.0, 1090.0),
        zones: vec![
            ("front-wheel", Bounds::new(800.0, -30.0, 1370.0, 520.0)),
            ("tank", Bounds::new(480.0, 620.0, 860.0, 900.0)),
            ("engine", Bounds::new(360.0, 290.0, 800.0, 620.0)),
            ("belly", Bounds::new(290.0, -30.0, 800.0, 290.0)),
            ("seat", Bounds::new(-10.0, 620.0, 480.0, 900.0)),
            ("rear", Bounds::new(-330.0, -30.0, 290.0, 620.0)),
        ],
        forms,
    }
}

fn body() -> Vec<Form> {
    vec![
        tube(
            "",
            20,
            Tone::Metal,
            34.0,
            &[k(815, 740), s(640, 640), s(480, 600), k(-20, 620)],
        ),
        tube(
            "",
            20,
            Tone::Metal,
            34.0,
            &[k(815, 700), s(740, 470), s(700, 280), k(400, 260)],
        ),
        solid(
            "tank",
            45,
            Tone::Body,
            &[
                k(800, 690),
                s(800, 770),
                s(700, 815),
                s(560, 770),
                k(480, 690),
                s(640, 645),
            ],
        ),
        solid(
            "seat",
            46,
            Tone::Dark,
            &[
                k(490, 715),
                s(380, 680),
                s(200, 690),
                s(-60, 715),
                k(-110, 690),
                s(60, 640),
                k(480, 645),
            ],
        ),
        solid(
            "mudguard",
            21,
            Tone::Body,
            &[
                k(120, 560),
                s(-60, 590),
                s(-200, 500),
                k(-270, 380),
                k(-245, 365),
                s(-170, 460),
                s(-40, 525),
                k(110, 520),
            ],
        ),
        solid(
            "tail-lamp",
            22,
            Tone::Metal,
            &[k(-215, 560), k(-265, 540), k(-258, 480), k(-205, 500)],
        ),
        tube("", 40, Tone::Body, 50.0, &[k(10, 240), k(90, 610)]),
        disc("", 50, Tone::Body, (905.0, 720.0), 76.0).detail(Shape::Disc {
            x: 905.0,
            y: 720.0,
            r: 56.0,
        }),
        tube(
            "",
            56,
            Tone::Metal,
            24.0,
            &[k(800, 800), s(800, 870), s(740, 890), k(620, 870)],
        ),
        solid(
            "",
            30,
            Tone::Metal,
            &[
                s(400, 270),
                s(395, 370),
                s(500, 410),
                s(640, 400),
                s(690, 340),
                s(680, 270),
                s(560, 230),
            ],
        ),
        solid(
            "",
            29,
            Tone::Body,
            &[k(560, 395), k(575, 545), k(700, 535), k(675, 385)],
        )
        .with(&[
            &[k(545, 425), k(700, 415)],
            &[k(548, 460), k(706, 450)],
            &[k(552, 495), k(712, 485)],
        ]),
        disc("clutch-cover", 33, Tone::Body, (500.0, 325.0), 72.0).right(),
        tube(
            "",
            40,
            Tone::Metal,
            36.0,
            &[k(700, 510), s(760, 470), s(740, 300), s(640, 200), k(360, 200)],
        ),
        tube("", 41, Tone::Body, 72.0, &[k(400, 200), k(-180, 260)]).right(),
        solid(
            "belly-panel",
            44,
            Tone::Body,
            &[
                k(380, 245),
                k(690, 250),
                k(760, 330),
                s(740, 220),
                s(600, 150),
                k(400, 160),
            ],
        ),
        solid(
            "carburettor",
            31,
            Tone::Body,
            &[k(460, 450), k(535, 450), k(535, 520), k(460, 520)],
        ),
        solid(
            "air-box",
            32,
            Tone::Body,
            &[k(290, 440), k(440, 430), k(450, 590), k(300, 600)],
        ),
        super::super::form::sign("plug", 60, 715, 545),
    ]
}
