//! The smallest rule module: it describes itself and answers every request with the request.

#[cfg(target_arch = "wasm32")]
mod component {
    wit_bindgen::generate!({ path: "../../../../../schema/wit", world: "rule-module" });

    struct Echo;

    impl exports::redtag::rules::module::Guest for Echo {
        fn describe() -> String {
            r#"{"schema":1,"name":"echo","rules":[]}"#.to_owned()
        }

        fn review(request: String) -> Result<String, String> {
            let number = request.trim().parse::<f64>().map_err(|error| error.to_string())?;
            redtag::rules::host::log(redtag::rules::host::Level::Info, &format!("{number}"));
            if number.is_nan() {
                panic!("not a number");
            }
            Ok(request)
        }
    }

    export!(Echo);
}
