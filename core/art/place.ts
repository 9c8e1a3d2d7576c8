import { BadInput } from '../base/finding.ts'

/** Where reading stands, for messages: the file and, once known, the layer or channel. */
export interface Place {
  readonly file: string
  /** `layer 3 "Comet"`, `channel "White"`, or null while outside of those. */
  readonly part: string | null
}

export const saveAgain =
  'Open the art in the program that made it and save it again, or ask for a fresh copy.'

/** The error for bytes that cannot be what the format says; `at` is the byte offset in the file. */
export function damaged(
  place: Place,
  at: number,
  problem: string,
  code = 'damaged',
  fix = saveAgain,
): BadInput {
  const byte = `byte ${at}`
  return new BadInput(code, place.file, place.part === null ? byte : `${place.part}, ${byte}`, problem, fix)
}
