//! A headless Chromium with an empty profile, steered through Debian's chromedriver.

use std::io::{BufRead, BufReader};
use std::os::unix::process::CommandExt;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use data_encoding::BASE64;
use serde_json::json;
use thirtyfour::prelude::*;

use crate::printed::{A4, Printed};

const MISSING: &str = "Install the browser with: apt-get install chromium chromium-driver \
     poppler-utils (or run tests/all.sh as root).";

/// A browser window; it and its driver stop when dropped.
pub(crate) struct Browser {
    pub(crate) driver: WebDriver,
    chromedriver: Child,
    _profile: tempfile::TempDir,
}

impl Browser {
    /// Opens an empty window of a phone's or a laptop's size, in CSS pixels.
    pub(crate) async fn open(width: u32, height: u32) -> Self {
        let (chromedriver, port) = start_chromedriver();
        let profile = tempfile::tempdir().unwrap();
        let mut wishes = DesiredCapabilities::chrome();
        let flags = [
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--no-first-run",
            "--disable-background-networking",
            "--hide-scrollbars",
            "--no-proxy-server",
            // A name that browsers do not trust as they trust localhost: a hall's own network.
            "--host-resolver-rules=MAP hall.example 127.0.0.1",
            &format!("--window-size={width},{height}"),
            &format!("--user-data-dir={}", profile.path().display()),
        ];
        for flag in flags {
            wishes.add_arg(flag).unwrap();
        }
        let address = format!("http://127.0.0.1:{port}");
        let driver = WebDriver::new(&address, wishes).await;
        let driver = driver.unwrap_or_else(|error| panic!("no browser: {error}. {MISSING}"));
        let browser = Self {
            driver,
            chromedriver,
            _profile: profile,
        };
        browser.set_size(width, height).await;
        browser
    }

    /// Exact size of the page area: a headless window alone has a smallest width.
    pub(crate) async fn set_size(&self, width: u32, height: u32) {
        let metrics = json!({
            "width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600
        });
        self.send("Emulation.setDeviceMetricsOverride", metrics)
            .await;
    }

    /// `light` or `dark`, as the reader's system would say.
    pub(crate) async fn set_scheme(&self, scheme: &str) {
        let features = json!({"features": [{"name": "prefers-color-scheme", "value": scheme}]});
        self.send("Emulation.setEmulatedMedia", features).await;
    }

    /// Opens an address.
    pub(crate) async fn goto(&self, url: &str) {
        self.driver.goto(url).await.unwrap();
    }

    /// Opens a page that may say first that it plans the cuts, and comes back by itself.
    pub(crate) async fn goto_planned(&self, url: &str) {
        self.goto(url).await;
        for _ in 0..120 {
            if !self.text().await.contains("Planning the cuts") {
                return;
            }
            tokio::time::sleep(Duration::from_millis(500)).await;
            self.goto(url).await;
        }
        panic!("{url} still plans");
    }

    /// Types into the field of that name, in place of what it holds.
    pub(crate) async fn fill(&self, name: &str, text: &str) {
        let field = self.driver.find(By::Name(name)).await.unwrap();
        field.clear().await.unwrap();
        field.send_keys(text).await.unwrap();
    }

    /// Puts a value into the field of that name as a person would: types it, ticks the box, or
    /// chooses from the list the entry that has or begins with it. Opens what is folded away.
    pub(crate) async fn enter(&self, name: &str, value: &str) {
        self.unfold().await;
        let field = self.driver.find(By::Name(name)).await.unwrap();
        if field.tag_name().await.unwrap() == "select" {
            let options = field.find_all(By::Tag("option")).await.unwrap();
            for option in options {
                let says = option.text().await.unwrap();
                let has = option.value().await.unwrap().unwrap_or_default();
                if has == value || says.starts_with(value) {
                    return option.click().await.unwrap();
                }
            }
            panic!("no \"{value}\" in the list of {name}");
        }
        match field.attr("type").await.unwrap().as_deref() {
            Some("checkbox") => {
                if !field.is_selected().await.unwrap() {
                    field.click().await.unwrap();
                }
            }
            // A date is typed in parts, in an order that depends on the reader's system.
            Some("date" | "time") => {
                let set = "arguments[0].value = arguments[1]";
                let arguments = vec![field.to_json().unwrap(), json!(value)];
                self.driver.execute(set, arguments).await.unwrap();
            }
            _ => self.fill(name, value).await,
        }
    }

    /// The address of the page.
    pub(crate) async fn address(&self) -> String {
        self.driver.current_url().await.unwrap().to_string()
    }

    /// Presses the button that says `label`, and waits for the page that follows.
    pub(crate) async fn press(&self, label: &str) {
        let path = format!("//button[normalize-space()='{label}']");
        self.click(By::XPath(path)).await;
    }

    /// Follows the link that says `label`, and waits for the page behind it.
    pub(crate) async fn follow(&self, label: &str) {
        self.click(By::LinkText(label)).await;
    }

    async fn click(&self, what: By) {
        self.mark_old().await;
        let found = self.driver.find(what.clone()).await.unwrap();
        found.click().await.unwrap();
        self.wait_for_new(&format!("a click on {what:?}")).await;
    }

    /// A click returns before the next page is there: the old page is marked, and waited away.
    pub(crate) async fn mark_old(&self) {
        self.run("document.documentElement.dataset.old = 'yes'")
            .await;
    }

    /// Waits until a page is there that is not marked.
    pub(crate) async fn wait_for_new(&self, after: &str) {
        let is_new = "return document.readyState === 'complete' \
            && !document.documentElement.dataset.old";
        for _ in 0..200 {
            let answer = self.driver.execute(is_new, vec![]).await;
            if answer.is_ok_and(|answer| answer.json() == &json!(true)) {
                return;
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        panic!("no new page after {after}: {}", self.text().await);
    }

    /// What the field of that name holds.
    pub(crate) async fn value(&self, name: &str) -> String {
        let field = self.driver.find(By::Name(name)).await.unwrap();
        field.value().await.unwrap().unwrap_or_default()
    }

    /// What the reader sees, as text.
    pub(crate) async fn text(&self) -> String {
        self.driver
            .find(By::Tag("body"))
            .await
            .unwrap()
            .text()
            .await
            .unwrap()
    }

    /// How far the page is wider than the window, in CSS pixels. A phone makes its window wider to
    /// show such a page whole: `innerWidth` says so much less.
    pub(crate) async fn overflow(&self) -> i64 {
        let script =
            "const page = document.documentElement; return page.scrollWidth - page.clientWidth";
        self.run(script).await.as_i64().unwrap()
    }

    /// Prints the page as the reader would, and reads the text of the PDF back; the PDF stays as
    /// `screens/NAME.pdf` if `TABLEFOLD_SCREENS` is set.
    pub(crate) async fn printed_text(&self, name: &str) -> String {
        self.print(name, A4).await.text()
    }

    /// Prints the page on paper of this size in inches.
    pub(crate) async fn print(&self, name: &str, paper: (f64, f64)) -> Printed {
        self.print_with(name, paper, false).await
    }

    /// The same, with the colours behind the text if the reader ticked that.
    pub(crate) async fn print_with(
        &self,
        name: &str,
        (width, height): (f64, f64),
        backgrounds: bool,
    ) -> Printed {
        let options = json!({
            "preferCSSPageSize": true, "printBackground": backgrounds,
            "paperWidth": width, "paperHeight": height
        });
        let answer = self.send("Page.printToPDF", options).await;
        let pdf = BASE64
            .decode(answer["data"].as_str().unwrap().as_bytes())
            .unwrap();
        let printed = Printed::new(&pdf);
        self.keep(&printed.file(), &format!("{name}.pdf"));
        printed
    }

    /// What a script gives that ends with a promise.
    pub(crate) async fn wait_for(
        &self,
        script: &str,
        arguments: Vec<serde_json::Value>,
    ) -> serde_json::Value {
        let waiting = format!(
            "const done = arguments[arguments.length - 1]; const given = arguments; \
             (async () => {{ {script} }})().then(done, (error) => done({{error: String(error)}}));"
        );
        let answer = self.driver.execute_async(waiting, arguments).await.unwrap();
        answer.json().clone()
    }

    /// What a script gives.
    pub(crate) async fn run(&self, script: &str) -> serde_json::Value {
        let answer = self.driver.execute(script, vec![]).await.unwrap();
        answer.json().clone()
    }

    /// Saves a picture of the whole page to `screens/NAME.png` if `TABLEFOLD_SCREENS` is set.
    pub(crate) async fn screenshot(&self, name: &str) {
        if !keeps_screens() {
            return;
        }
        let whole = json!({"format": "png", "captureBeyondViewport": true});
        let answer = self.send("Page.captureScreenshot", whole).await;
        let png = BASE64.decode(answer["data"].as_str().unwrap().as_bytes());
        std::fs::create_dir_all("screens").unwrap();
        std::fs::write(format!("screens/{name}.png"), png.unwrap()).unwrap();
    }

    /// Opens whatever is folded away on the page.
    pub(crate) async fn unfold(&self) {
        self.run("for (const d of document.querySelectorAll('details')) d.open = true")
            .await;
    }

    fn keep(&self, file: &std::path::Path, name: &str) {
        if keeps_screens() {
            std::fs::create_dir_all("screens").unwrap();
            std::fs::copy(file, format!("screens/{name}")).unwrap();
        }
    }

    pub(crate) async fn send(
        &self,
        command: &str,
        parameters: serde_json::Value,
    ) -> serde_json::Value {
        let sent = self.driver.cdp().send_raw(command, parameters).await;
        sent.unwrap()
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        // Without this the library waits a minute for the driver that is about to end.
        let _ = self.driver.clone().leak();
        // The whole group: a failed walk must not leave its browser behind.
        let group = format!("-{}", self.chromedriver.id());
        let _ = Command::new("kill").args(["-KILL", "--", &group]).status();
        let _ = self.chromedriver.wait();
    }
}

/// Whether pictures and PDFs of pages are kept to look at.
pub(crate) fn keeps_screens() -> bool {
    std::env::var_os("TABLEFOLD_SCREENS").is_some()
}

/// Starts chromedriver on a free port, in a process group of its own, and gives the port.
fn start_chromedriver() -> (Child, u16) {
    let process = Command::new("chromedriver")
        .arg("--port=0")
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .process_group(0)
        .spawn();
    let mut process = process.unwrap_or_else(|error| panic!("no chromedriver: {error}. {MISSING}"));
    let mut lines = BufReader::new(process.stdout.take().unwrap()).lines();
    let port = lines
        .by_ref()
        .map_while(Result::ok)
        .find_map(|line| {
            let (_, port) = line.split_once("started successfully on port ")?;
            port.trim_end_matches('.').parse().ok()
        })
        .unwrap_or_else(|| panic!("chromedriver does not start. {MISSING}"));
    // Its later lines are read away, or it would stand still on a full pipe.
    std::thread::spawn(move || lines.for_each(drop));
    (process, port)
}
