// How the reader wants it: unit, look, language.
import { type Language, languages } from "./catalogue";
import { phrase } from "./speech";
import type { LengthUnit } from "./lengths";
import { type Look, language, look, unit, word } from "./state";

export function ReaderTools() {
  return (
    <details class="menu reader">
      <summary>{word("tools")}</summary>
      <div>
        <label>
          {word("units")}
          <select value={unit.value} onChange={(e) => (unit.value = e.currentTarget.value as LengthUnit)}>
            <option value="um">{word("um")}</option>
            <option value="thou">{word("thou")}</option>
          </select>
        </label>
        <label>
          {word("look")}
          <select value={look.value} onChange={(e) => (look.value = e.currentTarget.value as Look)}>
            {(["asSystem", "light", "dark"] as const).map((l) => (
              <option key={l} value={l}>
                {word(l)}
              </option>
            ))}
          </select>
        </label>
        <label>
          {word("languageLabel")}
          <select value={language.value} onChange={(e) => (language.value = e.currentTarget.value as Language)}>
            {languages.map((l) => (
              <option key={l} value={l}>
                {phrase({ id: "page.language" }, { language: l, unit: "um" })}
              </option>
            ))}
          </select>
        </label>
      </div>
    </details>
  );
}
