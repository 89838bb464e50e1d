//! Serves a garage, as the command does: `serve [open] --no-browser --port N --data DIR`.

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let args: Vec<String> = std::env::args().collect();
    let after = |flag: &str| {
        let at = args.iter().position(|arg| arg == flag);
        at.and_then(|at| args.get(at + 1))
    };
    refettle_web::open(refettle_web::Options {
        data: after("--data")
            .ok_or("say where the garage's folder is: --data DIR")?
            .into(),
        port: after("--port").map(|text| text.parse()).transpose()?,
        browser: !args.iter().any(|arg| arg == "--no-browser"),
        network: refettle_web::Network::Shut,
    })?;
    Ok(())
}
