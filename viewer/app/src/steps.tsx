// The plan's steps as a list, for those who read rather than be guided.
import { unitName } from "./lengths";
import { type Reed, lengthShown, unit, word } from "./state";
import { purposeWords, stopWords, whereWords } from "./step_words";

export function Steps({ reed }: { reed: Reed }) {
  const plan = reed.data.plan;
  return (
    <ol class="steps">
      {plan.steps.map((step, k) => (
        <li key={k}>
          <strong>{whereWords(step)}</strong>: {lengthShown(step.depth_um)} {unitName(unit.value)}, {purposeWords(step, plan)}; {word("about")} {step.strokes}{" "}
          {word(step.strokes === 1 ? "stroke" : "strokes")}.
          <br />
          {stopWords(step)}
        </li>
      ))}
    </ol>
  );
}
