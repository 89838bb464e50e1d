//! Dual-sport single: a high mudguard far above a big front wheel, long fork, flat seat, high pipe.

use super::super::drawing::Drawing;
use super::super::form::{Form, Shown, Tone, disc, line, solid, tube};
use super::super::skeleton::{Skeleton, Wheel, signs};
use crate::geometry::{Bounds, Shape, k, s};

const SKELETON: Skeleton = Skeleton {
    wheelbase: 1420.0,
    front_radius: 345.0,
    rear_radius: 325.0,
    front_tyre: 68.0,
    rear_tyre: 80.0,
    wheel: Wheel::Wire,
    front_disc: 130.0,
    rear_disc: 112.0,
    rake: 27.0,
    fork: 880.0,
    bottom_yoke: 700.0,
    sliders: 350.0,
    fork_width: 52.0,
    upside_down: false,
    pivot: (500.0, 420.0),
    swingarm_width: 56.0,
    sprocket: (575.0, 430.0, 40.0),
    rear_sprocket: 118.0,
    mudguard: (60.0, 50.0, 130.0),
    carburettors: (640.0, 720.0),
    front_master: (960.0, 1235.0),
};

pub(super) fn drawing() -> Drawing {
    let mut forms = SKELETON.wheels();
    forms.extend(
        SKELETON
            .steering()
            .into_iter()
            .filter(|f| f.part != Some("front-mudguard")),
    );
    forms.extend(SKELETON.swingarm());
    forms.extend(SKELETON.chain());
    forms.extend(SKELETON.cables((640, 560)));
    forms.extend(body());
    forms.extend(engine());
    forms.extend(hidden());
    Drawing {
        view: Bounds::new(-460.0, -30.0, 1800.0, 1430.0),
        zones: vec![
            ("bars", Bounds::new(700.0, 1130.0, 1800.0, 1430.0)),
            ("nose", Bounds::new(1010.0, 830.0, 1800.0, 1130.0)),
            ("fork", Bounds::new(1010.0, 530.0, 1800.0, 830.0)),
            ("front-wheel", Bounds::new(1010.0, -30.0, 1800.0, 530.0)),
            ("tank", Bounds::new(690.0, 830.0, 1010.0, 1130.0)),
            ("engine", Bounds::new(520.0, 370.0, 1010.0, 830.0)),
            ("belly", Bounds::new(430.0, -30.0, 1010.0, 370.0)),
            ("seat", Bounds::new(-460.0, 720.0, 520.0, 1130.0)),
            ("rear", Bounds::new(-460.0, -30.0, 430.0, 720.0)),
        ],
        forms,
    }
}

fn body() -> Vec<Form> {
    let shroud = [
        k(940, 1060),
        k(1085, 985),
        s(1075, 900),
        k(1030, 790),
        s(930, 790),
        k(830, 900),
    ];
    let cover = [k(500, 905), k(30, 900), s(120, 800), s(330, 730), k(480, 760)];
    vec![
        tube(
            "",
            20,
            Tone::Metal,
            36.0,
            &[k(1050, 1040), s(860, 930), s(640, 870), k(-60, 880)],
        ),
        tube(
            "",
            20,
            Tone::Metal,
            36.0,
            &[
                k(1060, 1000),
                s(985, 700),
                s(930, 420),
                s(850, 300),
                s(560, 290),
                s(480, 420),
                k(540, 870),
            ],
        ),
        solid(
            "front-mudguard",
            47,
            Tone::Body,
            &[
                k(1075, 885),
                s(1230, 905),
                s(1440, 890),
                s(1640, 815),
                k(1720, 740),
                s(1610, 775),
                s(1440, 825),
                s(1260, 835),
                k(1090, 820),
            ],
        )
        .with(&[&[s(1120, 868), s(1430, 862), s(1640, 790)]]),
        solid(
            "tank",
            45,
            Tone::Body,
            &[
                k(1010, 1000),
                s(1010, 1060),
                s(950, 1100),
                s(850, 1095),
                s(760, 1010),
                k(700, 950),
                k(690, 900),
                s(860, 870),
            ],
        )
        .detail(Shape::Open(vec![
            k(895, 1104),
            k(897, 1122),
            k(960, 1118),
            k(958, 1098),
        ])),
        solid("shroud-right", 48, Tone::Body, &shroud)
            .with(&[&[s(900, 1010), s(985, 960), s(1010, 830)]])
            .right(),
        solid("shroud-left", 48, Tone::Body, &shroud)
            .with(&[&[s(900, 1010), s(985, 960), s(1010, 830)]])
            .left(),
        solid(
            "seat",
            49,
            Tone::Dark,
            &[
                k(800, 1055),
                s(740, 1000),
                s(640, 975),
                s(360, 975),
                s(60, 990),
                s(-140, 985),
                k(-170, 945),
                s(100, 910),
                k(700, 905),
            ],
        ),
        solid("side-cover-right", 46, Tone::Body, &cover).right(),
        solid("side-cover-left", 46, Tone::Body, &cover).left(),
        solid(
            "rear-mudguard",
            44,
            Tone::Body,
            &[
                k(-60, 935),
                s(-250, 940),
                s(-380, 890),
                k(-430, 800),
                s(-330, 850),
                s(-180, 880),
                k(20, 880),
            ],
        ),
        solid(
            "rear-light",
            47,
            Tone::Metal,
            &[k(-290, 962), k(-375, 945), k(-360, 890), k(-285, 905)],
        ),
        disc("indicators-rear", 48, Tone::Body, (-240.0, 850.0), 32.0),
        // The lamp and number plate in one.
        solid(
            "headlight",
            52,
            Tone::Body,
            &[
                k(1085, 1130),
                k(1150, 1120),
                s(1195, 1030),
                k(1200, 950),
                s(1140, 935),
                k(1090, 945),
            ],
        )
        .detail(Shape::Closed(vec![
            s(1130, 1000),
            s(1180, 1010),
            s(1170, 1070),
            s(1120, 1070),
        ])),
        disc("indicators-front", 53, Tone::Body, (1165.0, 905.0), 30.0),
        solid(
            "instruments",
            51,
            Tone::Dark,
            &[k(1040, 1135), k(1120, 1130), k(1100, 1200), k(1030, 1200)],
        ),
        tube(
            "handlebars",
            56,
            Tone::Metal,
            26.0,
            &[k(1020, 1140), s(1010, 1205), s(940, 1232), k(800, 1210)],
        )
        .and(Shape::Tube(vec![k(900, 1224), k(770, 1203)], 42.0)),
        solid(
            "hand-guards",
            57,
            Tone::Body,
            &[
                k(930, 1290),
                s(1010, 1270),
                s(1020, 1170),
                s(950, 1140),
                k(900, 1165),
                s(955, 1190),
                s(950, 1250),
            ],
        ),
        tube(
            "mirrors",
            55,
            Tone::Body,
            14.0,
            &[k(950, 1240), s(960, 1300), k(935, 1340)],
        )
        .and(Shape::Closed(vec![
            s(865, 1325),
            s(975, 1318),
            s(990, 1370),
            s(885, 1385),
        ])),
        solid(
            "front-master",
            58,
            Tone::Body,
            &[k(915, 1244), k(972, 1240), k(975, 1285), k(918, 1290)],
        )
        .right(),
        tube(
            "rear-brake-pedal",
            48,
            Tone::Body,
            20.0,
            &[k(560, 350), s(660, 320), k(780, 350)],
        )
        .right(),
        tube("footrests", 49, Tone::Dark, 36.0, &[k(545, 365), k(620, 365)]),
        tube(
            "side-stand-leg",
            39,
            Tone::Body,
            26.0,
            &[k(560, 330), k(330, 130)],
        )
        .left(),
        line("rear-brake-rod", 23, &[k(30, 260), k(570, 345)]).right(),
        solid(
            "rear-master",
            43,
            Tone::Body,
            &[k(520, 400), k(560, 405), k(545, 500), k(505, 495)],
        )
        .right(),
    ]
}

fn engine() -> Vec<Form> {
    vec![
        solid(
            "",
            30,
            Tone::Metal,
            &[
                s(545, 370),
                s(545, 490),
                s(640, 560),
                s(820, 560),
                s(900, 490),
                s(905, 380),
                s(830, 315),
                s(640, 310),
            ],
        ),
        solid(
            "",
            29,
            Tone::Body,
            &[k(735, 550), k(755, 740), k(920, 725), k(885, 535)],
        )
        .with(&[
            &[k(715, 592), k(918, 574)],
            &[k(717, 628), k(925, 610)],
            &[k(720, 664), k(930, 646)],
            &[k(724, 700), k(936, 682)],
        ]),
        solid(
            "valve-cover",
            31,
            Tone::Body,
            &[k(755, 745), s(775, 795), s(850, 805), s(920, 780), k(925, 730)],
        ),
        disc("clutch-cover", 33, Tone::Body, (690.0, 440.0), 98.0)
            .right()
            .detail(Shape::Disc {
                x: 690.0,
                y: 440.0,
                r: 68.0,
            }),
        solid(
            "sprocket-cover",
            36,
            Tone::Body,
            &[s(520, 370), s(520, 490), s(640, 500), s(650, 380)],
        )
        .left(),
        tube(
            "exhaust",
            40,
            Tone::Metal,
            46.0,
            &[
                k(925, 690),
                s(985, 660),
                s(975, 590),
                s(880, 585),
                s(640, 660),
                k(400, 745),
            ],
        ),
        solid(
            "heat-shield",
            42,
            Tone::Body,
            &[s(640, 640), s(830, 575), s(850, 620), s(660, 690)],
        )
        .right(),
        tube(
            "silencer",
            43,
            Tone::Body,
            104.0,
            &[k(440, 735), s(400, 750), k(-130, 870)],
        )
        .right()
        .with(&[&[k(260, 745), k(268, 820)]]),
        solid(
            "skid-plate",
            41,
            Tone::Metal,
            &[
                k(520, 275),
                s(840, 280),
                k(975, 430),
                k(950, 450),
                s(830, 320),
                k(525, 310),
            ],
        ),
        solid(
            "carburettors",
            27,
            Tone::Body,
            &[k(600, 690), k(690, 690), k(690, 765), k(600, 765)],
        ),
        solid(
            "float-bowl",
            28,
            Tone::Body,
            &[s(612, 690), s(620, 645), s(668, 645), s(678, 690)],
        ),
        tube("inlet-boots", 28, Tone::Dark, 46.0, &[k(688, 730), k(760, 725)]),
        solid(
            "airbox",
            26,
            Tone::Body,
            &[k(330, 745), k(590, 690), k(600, 870), k(340, 880)],
        ),
        solid(
            "radiator",
            37,
            Tone::Metal,
            &[k(960, 560), k(1005, 560), k(1050, 780), k(1005, 785)],
        )
        .with(&[
            &[k(965, 610), k(1012, 608)],
            &[k(976, 660), k(1022, 658)],
            &[k(986, 710), k(1032, 708)],
        ]),
        tube(
            "kick-lever",
            47,
            Tone::Body,
            22.0,
            &[k(590, 430), s(540, 560), k(500, 620)],
        )
        .right(),
        tube("gear-lever", 48, Tone::Body, 20.0, &[k(700, 350), k(810, 370)]).left(),
    ]
}

fn hidden() -> Vec<Form> {
    let mut out = vec![
        solid(
            "battery",
            27,
            Tone::Body,
            &[k(190, 790), k(300, 770), k(300, 870), k(190, 875)],
        ),
        solid(
            "air-filter",
            28,
            Tone::Dark,
            &[k(430, 760), k(510, 745), k(510, 840), k(430, 845)],
        ),
        line("radiator-hoses", 36, &[s(1010, 770), s(960, 790), s(900, 770)]),
        line("oil-hoses", 32, &[s(905, 400), s(960, 500), s(985, 620)]),
        line(
            "decompressor-cable",
            32,
            &[s(900, 1220), s(960, 1000), s(880, 800)],
        )
        .left(),
    ];
    out.extend(signs(60, Shown::Both, &[("spark-plugs", 905, 762)]));
    out.extend(signs(
        44,
        Shown::Both,
        &[
            ("fuel-tap", 730, 880),
            ("ignition-coils", 900, 860),
            ("regulator", 60, 870),
        ],
    ));
    out.extend(signs(
        35,
        Shown::Right,
        &[
            ("oil-filter", 825, 400),
            ("timing-plugs", 850, 470),
            ("coolant-bottle", 560, 620),
        ],
    ));
    out.extend(signs(32, Shown::Right, &[("clutch-plates", 690, 440)]));
    out.extend(signs(
        32,
        Shown::Both,
        &[
            ("starter-motor", 700, 585),
            ("valve-caps", 790, 775),
            ("thermostat", 935, 755),
            ("shock-link", 470, 360),
        ],
    ));
    out.extend(signs(
        28,
        Shown::Left,
        &[("chain-roller", 440, 300), ("chain-slider", 420, 430)],
    ));
    out
}
