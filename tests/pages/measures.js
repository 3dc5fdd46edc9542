// What is measured in a page: sizes in CSS px, contrast as in WCAG 2.2 (relative luminance).
globalThis.handbookMeasures = (() => {
  const content = () => document.querySelector(".md-content");
  const shown = (element) => element.checkVisibility({ contentVisibilityAuto: true });
  const said = (element) =>
    `${element.tagName}.${element.className}: ${element.textContent.trim().slice(0, 40)}`;

  function* textElements() {
    const walker = document.createTreeWalker(content(), NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
      const element = walker.currentNode.parentElement;
      // A permalink appears only under a pointer and says nothing a reader needs.
      if (walker.currentNode.data.trim() && shown(element) && !element.closest("svg, .headerlink"))
        yield element;
    }
  }

  const parsed = (colour) => {
    const numbers = colour.match(/[\d.]+/g).map(Number);
    return { rgb: numbers.slice(0, 3), alpha: numbers[3] ?? 1 };
  };
  const over = (top, below) =>
    top.rgb.map((value, i) => value * top.alpha + below[i] * (1 - top.alpha));
  const luminance = (rgb) => {
    const [r, g, b] = rgb.map((value) => value / 255)
      .map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ground = (element) => {
    if (!element) return [255, 255, 255];
    const own = parsed(getComputedStyle(element).backgroundColor);
    return own.alpha === 1 ? own.rgb : over(own, ground(element.parentElement));
  };
  const contrast = (element) => {
    const below = ground(element);
    const pair = [over(parsed(getComputedStyle(element).color), below), below].map(luminance);
    return (Math.max(...pair) + 0.05) / (Math.min(...pair) + 0.05);
  };

  const scrolls = (element) => element !== document.body && element !== document.documentElement
    && (["auto", "scroll"].includes(getComputedStyle(element).overflowX)
      || scrolls(element.parentElement ?? document.body));
  const targets = () => [...content().querySelectorAll(
    "summary, label, .hb-list a, .hb-cards a, a.hb-way")].filter(shown);
  const letter = (text) => parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().d;

  return {
    width: () => document.documentElement.scrollWidth,
    texts: () => [...textElements()].length,
    targets: () => targets().length,
    openAll: () => document.querySelectorAll("details").forEach((each) => { each.open = true; }),
    tooWide: () => [...textElements()].filter((element) => !scrolls(element)
      && element.getBoundingClientRect().right > innerWidth + 0.5).map(said),
    tooFaint: (least) => [...textElements()].filter((each) => contrast(each) < least).map(said),
    tooSmall: (least) => targets().filter((each) => {
      const { width, height } = each.getBoundingClientRect();
      return Math.min(width, height) < least;
    }).map(said),
    drawings: () => [...document.querySelectorAll("svg[role=img]")].map((svg) => ({
      width: svg.getBoundingClientRect().width,
      least: Math.min(...[...svg.querySelectorAll("text")].map(letter)),
      // Every letter is dark and stands on the drawing's own light ground, in the dark too.
      faint: [...svg.querySelectorAll("text")]
        .filter((text) => luminance(parsed(getComputedStyle(text).fill).rgb) > 0.1).map(said),
    })),
    belowHeader: (anchor) => document.getElementById(anchor).getBoundingClientRect().top
      - document.querySelector(".md-header").getBoundingClientRect().bottom,
    brokenNames: () => [...document.querySelectorAll(".hb-name")]
      .filter((name) => shown(name) && name.getClientRects().length > 1).map(said),
    hiddenOnPaper: () => [...document.querySelectorAll(".hb details > :not(summary)")]
      .filter((each) => !each.checkVisibility({ contentVisibilityAuto: true })
        || each.getBoundingClientRect().height === 0).map(said),
    cutOff: () => [...content().querySelectorAll("*")].filter((element) => shown(element)
      && !element.closest("svg") && (element.getBoundingClientRect().right > innerWidth + 0.5
        || (getComputedStyle(element).overflowX !== "visible"
          && element.clientWidth && element.scrollWidth > element.clientWidth + 1))).map(said),
  };
})();
