//! Nothing that a page needs of its style is left out of it: the browser's own reading of every selector says so.

use super::chrome::Chrome;
use super::{asked, demo, put};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;

/// Of a whole style, the rules (with those around them) that some element of the page takes and that the page's own style does not have.
const MISSING: &str = r"((css) => {
  const whole = new CSSStyleSheet();
  whole.replaceSync(css);
  // What depends on a moment is taken off; the rest is asked of the page.
  const bare = (selector) => selector.replace(/::[a-z-]+|:(hover|focus-visible|focus|active|visited|target)\b/g, '') || '*';
  const walk = (rules, around, each) => {
    for (const rule of rules) {
      if (rule.cssRules && !rule.selectorText && rule.constructor.name !== 'CSSPageRule') walk(rule.cssRules, around + rule.cssText.split('{')[0], each);
      else each(around, rule);
    }
  };
  const parts = (rule) => rule.selectorText ? rule.selectorText.split(/,\s*(?![^(]*\))/) : [''];
  const has = new Set();
  for (const sheet of document.styleSheets) walk(sheet.cssRules, '', (around, rule) => {
    for (const one of parts(rule)) has.add([around, one, rule.style && rule.style.cssText].join('|'));
  });
  const missing = [];
  let taken = 0;
  walk(whole.cssRules, '', (around, rule) => {
    for (const one of parts(rule)) {
      if (one && !document.querySelector(bare(one))) continue;
      taken += 1;
      if (!has.has([around, one, rule.style && rule.style.cssText].join('|'))) missing.push(around + one);
    }
  });
  return { taken, missing, own: has.size };
})";

/// The styles that a template includes, and those of the template it stands in.
fn style(template: &str) -> String {
    let text = |name: &str| std::fs::read_to_string(format!("report-templates/{name}")).unwrap();
    let own = text(template);
    let named = |text: &str, word: &str| -> Vec<String> {
        let rest = text.split(word).skip(1);
        rest.filter_map(|rest| rest.split('"').nth(1).map(str::to_owned)).collect()
    };
    let mut out = String::new();
    for of in named(&own, "{% extends").iter().map(|name| text(name)).chain([own.clone()]) {
        for name in named(&of, "{% include")
            .iter()
            .filter(|name| Path::new(name).extension().is_some_and(|end| end == "css"))
        {
            out += &text(name);
        }
    }
    out
}

#[test]
fn no_page_lacks_a_rule_that_it_takes() {
    if !asked() {
        return;
    }
    let mut chrome = Chrome::new("style");
    chrome.window(1280, false);
    let pages = demo();
    let templates: BTreeMap<String, &str> =
        pages.iter().map(|page| (page.name.clone(), page.template)).collect();
    let mut wrong = Vec::new();
    let ask = |chrome: &mut Chrome, css: &str| chrome.value(&format!("{MISSING}({})", json!(css)));
    for (name, at) in put(&chrome, &pages) {
        chrome.open(&at);
        let found = ask(&mut chrome, &style(templates[&name]));
        let taken = found["taken"].as_u64().unwrap();
        assert!(taken > 20, "{name} takes {taken} rules");
        if found["missing"] != json!([]) {
            wrong.push(format!("{name}: {}", found["missing"]));
        }
        // Were a rule missing, it would be said.
        let more = format!("{}\nbody {{ outline: 7px solid red }}", style(templates[&name]));
        assert_eq!(
            ask(&mut chrome, &more)["missing"].as_array().and_then(|all| all.last()),
            Some(&Value::from("body"))
        );
    }
    assert_eq!(wrong, Vec::<String>::new());
}
