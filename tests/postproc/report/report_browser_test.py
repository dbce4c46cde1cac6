"""Clicks through a report in headless Chromium: report_browser_test.py PROGRAM BOW TEAR [PICTURES]

Writes the report with the program, opens it from disk and checks what a person does with it: choosing layouts,
enlarging the lean, turning the bow, printing. A folder for PICTURES gets screenshots and the print.
"""

import base64
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import unittest

if not shutil.which("chromium") or not shutil.which("chromedriver"):
    sys.exit("chromium or chromedriver is missing: install Debian's packages chromium and chromium-driver")
try:
    from selenium import webdriver
    from selenium.webdriver.chrome.service import Service
    from selenium.webdriver.common.action_chains import ActionChains
    from selenium.webdriver.common.by import By
    from selenium.webdriver.common.keys import Keys
    from selenium.webdriver.support.select import Select
except ImportError:
    sys.exit("selenium is missing: install Debian's package python3-selenium")

PROGRAM, BOW, TEAR = sys.argv[1:4]
PICTURES = pathlib.Path(sys.argv[4]) if len(sys.argv) > 4 else None
PAGES = 4  # bow; curves; layouts; effects and how to read
PAGES_WITH_TEAR = 6  # the tear and its cures; the sheet


def browser(script=True):
    options = webdriver.ChromeOptions()
    for argument in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
                     "--window-size=1280,800", "--force-device-scale-factor=1"):
        options.add_argument(argument)
    if not script:
        options.add_experimental_option("prefs", {"profile.managed_default_content_settings.javascript": 2})
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    return webdriver.Chrome(service=Service("/usr/bin/chromedriver"), options=options)


def write(name, data):
    if PICTURES:
        PICTURES.mkdir(parents=True, exist_ok=True)
        (PICTURES / name).write_bytes(data)


def pages(pdf):
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))


class Report(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.files = {}
        for name, more in (("plain", []), ("tear", ["--tear", TEAR])):
            file = pathlib.Path(cls.folder.name) / f"{name}.html"
            subprocess.run([PROGRAM, "report", BOW, *more, "-o", str(file)], check=True, capture_output=True)
            cls.files[name] = file
        cls.driver = browser()

    @classmethod
    def tearDownClass(cls):
        if PICTURES:
            cls.take_pictures()
        cls.driver.quit()
        cls.folder.cleanup()

    @classmethod
    def take_pictures(cls):
        """The whole page from top to bottom, in colour and in grey, as a person has set it."""
        cls.driver.get(cls.files["tear"].as_uri())
        Select(cls.driver.find_element(By.ID, "layout")).select_by_index(5)
        for name, value in (("lean", "10"), ("view", "axle top")):
            cls.driver.find_element(By.CSS_SELECTOR, f"button[name={name}][value='{value}']").click()
        for name in ("screen", "grey"):
            for i in range(0, cls.driver.execute_script("return document.documentElement.scrollHeight"), 640):
                cls.driver.execute_script(f"window.scrollTo(0, {i})")
                write(f"{name}_{i // 640}.png", cls.driver.get_screenshot_as_png())
            cls.driver.execute_script("document.documentElement.style.filter = 'grayscale(1)'")

    def setUp(self):
        self.open("plain")

    def open(self, name):
        self.driver.get(self.files[name].as_uri())

    def js(self, expression):
        return self.driver.execute_script("return " + expression)

    def click(self, name, value):
        self.driver.find_element(By.CSS_SELECTOR, f"button[name={name}][value='{value}']").click()

    def bow(self):
        """The painted bow at full draw, after the browser has shown it."""
        self.driver.execute_async_script("requestAnimationFrame(() => requestAnimationFrame(arguments[0]))")
        return self.js("canvases[1].toDataURL()")

    def drawn(self, chart):
        """Curves of a chart as the library holds them: label and heights."""
        return self.js(f"charts[{chart}].data.datasets.map(s => [s.label, s.data.map(p => p.y)])")

    def print(self):
        answer = self.driver.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": False})
        return base64.b64decode(answer["data"])

    def test_shows_todays_curves_first(self):
        for chart in range(5):
            self.assertEqual([label for label, _ in self.drawn(chart)], ["today"])
            self.assertGreater(len(self.drawn(chart)[0][1]), 10)

    def test_a_layout_chosen_in_the_list_is_drawn_against_todays(self):
        before = self.js("charts[1].canvas.toDataURL()")
        Select(self.driver.find_element(By.ID, "layout")).select_by_index(3)
        self.assertNotEqual(self.js("charts[1].canvas.toDataURL()"), before)
        for chart in range(5):
            (_, today), (label, chosen) = self.drawn(chart)
            self.assertEqual(label, "chosen")
            self.assertEqual(chosen, self.js(f"data.layouts[3].curves[{chart}]"))
            self.assertNotEqual(chosen, today)
        self.assertIn(self.js("data.layouts[3].change"), self.driver.find_element(By.ID, "chosen").text)

    def test_a_layout_chosen_in_the_table_is_the_same_choice(self):
        self.driver.find_element(By.CSS_SELECTOR, "input[name=layout][value='2']").click()
        self.assertEqual(self.drawn(1)[1][1], self.js("data.layouts[2].curves[1]"))
        self.assertEqual(self.js("document.getElementById('layout').value"), "2")
        self.assertEqual(len(self.driver.find_elements(By.CSS_SELECTOR, "tr.chosen")), 1)
        self.driver.find_element(By.CSS_SELECTOR, "input[name=layout][value='0']").click()
        self.assertEqual(len(self.drawn(1)), 1)

    def test_the_figures_are_the_ends_of_the_curves(self):
        Select(self.driver.find_element(By.ID, "layout")).select_by_index(1)
        row = self.driver.find_element(By.XPATH, "//tbody[@id='compare']/tr[th[starts-with(., 'Cam lean, top, full')]]")
        shown = [float(cell.text.replace("\u2212", "-")) for cell in row.find_elements(By.TAG_NAME, "td")]
        ends = [self.js(f"last(data.layouts[{i}].curves[1])") for i in (0, 1)]
        for value, expected in zip(shown, [*ends, ends[1] - ends[0]]):
            self.assertAlmostEqual(value, expected, delta=0.00051)  # three digits are shown

    def test_the_lean_is_enlarged_and_the_caption_says_so(self):
        self.click("view", "behind")
        seen = {}
        for times in ("1", "4", "10", "1"):
            self.click("lean", times)
            picture = self.bow()
            self.assertEqual(seen.setdefault(times, picture), picture)
        self.assertEqual(len(set(seen.values())), 3)
        self.click("lean", "10")
        self.bow()
        caption = self.driver.find_element(By.ID, "bow-caption-1").text
        self.assertIn("shown ×10", caption)
        self.assertIn("full draw", caption)

    def test_the_bow_turns_by_mouse_and_by_key(self):
        canvas = self.driver.find_elements(By.CSS_SELECTOR, ".bow canvas")[1]
        first, yaw = self.bow(), self.js("view.yaw")
        ActionChains(self.driver).move_to_element(canvas).click_and_hold().move_by_offset(80, 30).release().perform()
        dragged = self.bow()
        self.assertNotEqual(dragged, first)
        self.assertLess(self.js("view.yaw"), yaw)
        canvas.send_keys(Keys.ARROW_LEFT)
        self.assertNotEqual(self.bow(), dragged)

    def test_a_close_look_at_an_axle_is_another_picture(self):
        whole = self.bow()
        self.click("view", "axle top")
        top = self.bow()
        self.click("view", "axle bottom")
        self.assertEqual(len({whole, top, self.bow()}), 3)

    def test_the_bow_is_painted(self):
        inked = ("(() => { const c = canvases[0], d = c.getContext('2d').getImageData(0, 0, c.width, c.height).data;"
                 "let n = 0; for (let i = 0; i < d.length; i += 4) if (d[i] < 250) ++n; return n / (d.length / 4); })()")
        self.click("view", "side")
        self.bow()
        self.assertTrue(0.01 < self.js(inked) < 0.5)  # a bow is mostly air

    def test_nothing_goes_wrong_and_nothing_is_fetched(self):
        for log in ("browser", "performance"):
            self.driver.get_log(log)
        self.open("tear")
        Select(self.driver.find_element(By.ID, "layout")).select_by_index(2)
        self.click("lean", "4")
        self.bow()
        self.assertEqual([entry["message"] for entry in self.driver.get_log("browser")], [])
        sent = [json.loads(entry["message"])["message"] for entry in self.driver.get_log("performance")]
        asked = [m["params"]["request"]["url"] for m in sent if m["method"] == "Network.requestWillBeSent"]
        self.assertEqual(asked, [self.files["tear"].as_uri()])

    def test_nothing_is_wider_than_the_window(self):
        for width in (1280, 500):
            self.driver.set_window_size(width, 800)
            for name in self.files:
                self.open(name)
                self.assertLessEqual(self.js("document.documentElement.scrollWidth"), self.js("window.innerWidth"))
        self.driver.set_window_size(1280, 800)

    def test_prints_on_the_pages_that_it_should(self):
        for name, expected in (("plain", PAGES), ("tear", PAGES_WITH_TEAR)):
            self.open(name)
            pdf = self.print()
            write(f"{name}.pdf", pdf)
            self.assertEqual(pages(pdf), expected, name)

    def test_without_a_script_still_pictures_tell(self):
        driver = browser(script=False)
        try:
            driver.get(self.files["plain"].as_uri())
            write("no_script.png", driver.get_screenshot_as_png())
            shown = [s for s in driver.find_elements(By.CSS_SELECTOR, ".still svg") if s.is_displayed()]
            self.assertEqual(len(shown), 5)
            self.assertFalse(driver.find_element(By.CSS_SELECTOR, ".bow canvas").is_displayed())
        finally:
            driver.quit()


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1], verbosity=2)
