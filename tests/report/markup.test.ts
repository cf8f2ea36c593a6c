import { describe, expect, it } from "vitest";
import { escapeMarkup, html } from "../../src/report/markup.ts";

describe("escapeMarkup()", () => {
  it("replaces the five characters that mean something in text or in a quoted attribute", () => {
    expect(escapeMarkup(`<a href="x">'&'</a>`)).toBe("&lt;a href=&quot;x&quot;&gt;&#39;&amp;&#39;&lt;/a&gt;");
  });

  it("leaves letters of any script, signs and emoji alone", () => {
    const words = "Gelenkflüssigkeit · מלט · セメント · −5° · 🦵🏽";
    expect(escapeMarkup(words)).toBe(words);
  });

  it("shows a control character or half a pair as a replacement sign, and keeps line ends", () => {
    expect(escapeMarkup("a\u0000b\u001bc\ud800d")).toBe("a\ufffdb\ufffdc\ufffdd");
    expect(escapeMarkup("a\n\tb")).toBe("a\n\tb");
  });
});

describe("html``", () => {
  it("escapes text and not markup, once", () => {
    const inner = html`<b>${"<"}</b>`;
    expect(html`<p>${inner}${[inner, inner]}${"&lt;"}${7}</p>`.markup).toBe(
      "<p><b>&lt;</b><b>&lt;</b><b>&lt;</b>&amp;lt;7</p>",
    );
  });
});
