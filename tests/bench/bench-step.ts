/** Work in two parts that are timed apart: making the counts (or reading), and what is done with them. */
export interface BenchStep<Input = unknown, Between = unknown> {
  readonly name: string;
  readonly parts: readonly [string, string];
  /** Which of the folders of invented data it works on. */
  readonly data: "columns" | "narrow" | "middle" | "wide" | "demo";
  /** Script in scripts/ that does the same work in R. */
  readonly script?: string;
  /** Left out above this many knees. */
  readonly mostKnees?: number;
  /** Runs after the first one. */
  readonly warmRuns: number;
  /** Not timed. */
  readonly load: (folder: string) => Input;
  readonly first: (input: Input) => Between | Promise<Between>;
  /** Gives one number, to be compared with the same number from R. */
  readonly second: (between: Between, input: Input) => number;
}
