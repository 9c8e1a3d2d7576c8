/** The processing step that a layer names, as the file has it: ISO 19593-1, GTS_ProcStepsGroup and GTS_ProcStepsType. */
export interface StatedStep {
  readonly group: string | null
  readonly type: string | null
}
