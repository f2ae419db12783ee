/** How a line that is being typed reads, as its field is told by /lines/answers. */

/** A text that the field can be filled with, and what it takes: "edible portion". */
export interface LineChoiceView {
  readonly text: string;
  readonly as: string;
}

export interface LineView {
  /** "2 1/4 cups of Heavy cream, as purchased"; null where it is not understood yet. */
  readonly echo: string | null;
  /** What is to be asked, or what is wrong. */
  readonly sentence: string | null;
  /** The answers to what is asked. */
  readonly choices: readonly LineChoiceView[];
  /** What the line may become, at most twelve. */
  readonly answers: readonly LineChoiceView[];
}
