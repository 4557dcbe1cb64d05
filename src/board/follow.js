// Waits for the next state of this page and lays it over the one that stands here: the place on the page, what is folded open and what is marked stay.
"use strict";
(() => {
  const strip = document.getElementById("follow");
  const { page } = strip.dataset;
  const status = strip.querySelector(".told");
  const MARK = "data-moved";
  // Two lists longer than this, times each other, are paired one by one and not searched for what they have in common.
  const ENOUGH = 1e6;
  let seen = strip.dataset.seen;

  const isOurs = (node) => node === strip || (node.nodeType === 1 && (node.id === "follow" || node.nodeName === "SCRIPT"));
  const text = (node) => (node.nodeType === 1 ? node.outerHTML : node.nodeName + node.nodeValue);
  const isBlank = (node) => node.nodeType === 3 && !node.nodeValue.trim();

  const mark = (node, moved) => {
    const at = node.nodeType === 1 ? node : node.parentElement;
    // The foot has the fingerprints, small print the lines: they change with whatever stands above them in the book.
    if (at && at !== document.body && !at.closest("body > footer, .src, .at")) {
      at.setAttribute(MARK, "");
      moved.add(at);
    }
  };

  // What a node is, whatever it says: two of one kind may be one thing that says something else now.
  const kind = (node) => (node.nodeType === 1 ? `${node.nodeName} ${node.id} ${node.getAttribute("class") ?? ""}` : node.nodeName);

  // How good it is to take one node for the other: what says the same before what is of one kind, blanks last; 0 where they are two things.
  const likeness = (a, b) => {
    if (a.kind !== b.kind) return 0;
    if (a.blank) return 1;
    return a.text === b.text ? 1000 : 600;
  };

  // What is to be known of nodes to pair them: their kinds, and what they say where two are of one kind. Numbers, which are compared fast.
  const told = (lists) => {
    const numbers = new Map();
    const number = (words) => numbers.get(words) ?? (numbers.set(words, numbers.size), numbers.size - 1);
    const all = lists.map((list) =>
      list.map((node) => ({ node, blank: isBlank(node), kind: number(isBlank(node) ? "" : `kind ${kind(node)}`), text: 0 })),
    );
    const twice = all.some((list) => {
      const kinds = list.filter((one) => !one.blank).map((one) => one.kind);
      return new Set(kinds).size < kinds.length;
    });
    if (twice) for (const one of all.flat()) if (!one.blank) one.text = number(text(one.node));
    return all;
  };

  // Which nodes of two lists are taken for one another, in order: pairs of places, the best such run of them.
  const pairs = (old, now) => {
    let from = 0;
    while (from < old.length && from < now.length && old[from].isEqualNode(now[from])) from += 1;
    let back = 0;
    while (back < Math.min(old.length, now.length) - from && old[old.length - 1 - back].isEqualNode(now[now.length - 1 - back])) back += 1;
    const found = [];
    const [a, b] = told([old.slice(from, old.length - back), now.slice(from, now.length - back)]);
    if (a.length * b.length > ENOUGH) {
      for (let i = 0; i < Math.min(a.length, b.length); i += 1) if (a[i].kind === b[i].kind) found.push([from + i, from + i]);
    } else if (a.length && b.length) {
      const width = b.length + 1;
      const best = new Uint32Array((a.length + 1) * width);
      for (let i = a.length - 1; i >= 0; i -= 1) {
        for (let j = b.length - 1; j >= 0; j -= 1) {
          const like = likeness(a[i], b[j]);
          const both = like ? like + best[(i + 1) * width + j + 1] : 0;
          best[i * width + j] = Math.max(both, best[(i + 1) * width + j], best[i * width + j + 1]);
        }
      }
      for (let i = 0, j = 0; i < a.length && j < b.length; ) {
        const like = likeness(a[i], b[j]);
        if (like && best[i * width + j] === like + best[(i + 1) * width + j + 1]) {
          found.push([from + i, from + j]);
          i += 1;
          j += 1;
        } else if (best[(i + 1) * width + j] >= best[i * width + j + 1]) i += 1;
        else j += 1;
      }
    }
    return { from, back, found };
  };

  const attributes = (old, now, moved) => {
    let other = false;
    for (const { name } of [...old.attributes]) {
      // What somebody has folded open or shut stays so.
      if (name !== "open" && !now.hasAttribute(name)) {
        old.removeAttribute(name);
        other = true;
      }
    }
    for (const { name, value } of [...now.attributes]) {
      if (name !== "open" && old.getAttribute(name) !== value) {
        old.setAttribute(name, value);
        other = true;
      }
    }
    if (other) mark(old, moved);
  };

  const lay = (old, now, moved) => {
    if (old.nodeType !== 1) {
      if (old.nodeValue !== now.nodeValue) {
        old.nodeValue = now.nodeValue;
        mark(old, moved);
      }
      return;
    }
    attributes(old, now, moved);
    const olds = [...old.childNodes].filter((node) => !isOurs(node));
    const nows = [...now.childNodes].filter((node) => !isOurs(node));
    // What is the same before and behind stays untouched.
    const { from, back, found } = pairs(olds, nows);
    let i = from;
    let j = from;
    const end = olds.length - back;
    for (const [to, at] of [...found, [end, nows.length - back]]) {
      // What has nothing in its place goes; what had nothing comes.
      for (; i < to; i += 1) {
        olds[i].remove();
        if (!isBlank(olds[i])) moved.gone += 1;
      }
      for (; j < at; j += 1) {
        const come = document.importNode(nows[j], true);
        old.insertBefore(come, i < olds.length ? olds[i] : old === document.body ? strip : null);
        if (!isBlank(come)) mark(come, moved);
      }
      if (to < end) lay(olds[to], nows[at], moved);
      i = to + 1;
      j = at + 1;
    }
  };

  const count = (n, one, many) => `${n} ${n === 1 ? one : many}`;

  const show = (html) => {
    const next = new DOMParser().parseFromString(html, "text/html");
    const come = next.getElementById("follow");
    if (!come) return;
    for (const node of document.querySelectorAll(`[${MARK}]`)) node.removeAttribute(MARK);
    const moved = new Set();
    moved.gone = 0;
    document.title = next.title;
    const styles = [document, next].map((page) => [...page.head.querySelectorAll("style")].map((one) => one.textContent).join("\n"));
    if (styles[0] !== styles[1]) {
      for (const one of document.head.querySelectorAll("style")) one.remove();
      for (const one of next.head.querySelectorAll("style")) document.head.append(document.importNode(one, true));
    }
    lay(document.body, next.body, moved);
    strip.querySelector(".said").replaceWith(document.importNode(come.querySelector(".said"), true));
    seen = come.dataset.seen;
    // A mark inside of another says no more.
    const places = [...moved].filter((node) => node.isConnected && !node.parentElement.closest(`[${MARK}]`));
    const outer = new Set(places);
    for (const node of moved) if (!outer.has(node)) node.removeAttribute(MARK);
    const words = [];
    if (places.length) words.push(`${count(places.length, "place", "places")} changed`);
    if (moved.gone) words.push(`${moved.gone} gone`);
    status.textContent = `${new Date().toTimeString().slice(0, 8)}: ${words.length ? words.join(", ") : "nothing on this page changed"}`;
    if (places.length) {
      const to = document.createElement("a");
      to.href = "#";
      to.textContent = "go there";
      to.addEventListener("click", (event) => {
        event.preventDefault();
        for (let at = places[0].closest("details"); at; at = at.parentElement.closest("details")) at.open = true;
        places[0].scrollIntoView({ block: "center" });
      });
      status.append("; ", to);
    }
  };

  const pause = (time) => new Promise((done) => setTimeout(done, time));
  // A page in the background is never painted.
  const painted = () =>
    Promise.race([new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0))), pause(document.hidden ? 0 : 250)]);

  const follow = async () => {
    let wait = 250;
    for (;;) {
      try {
        const answer = await fetch(`news/${page}?seen=${seen}`, { cache: "no-store" });
        if (answer.status === 200) {
          show(await answer.text());
          await painted();
        } else if (answer.status >= 500) {
          throw new Error(answer.statusText);
        } else if (answer.status !== 204) {
          status.textContent = "This address is no longer the book's: open the one that was printed last.";
          return;
        }
        wait = 250;
      } catch {
        status.textContent = "Nobody answers: this page stays as it was, until somebody does.";
        await pause(wait);
        wait = Math.min(wait * 2, 8000);
      }
    }
  };
  follow();
})();
