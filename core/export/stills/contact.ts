import { type Canvas, textWidth, write } from './lettering.ts'

/** Angles that rows or columns go through, degrees: from the first to the last in even steps. */
export interface Angles {
  readonly fromDeg: number
  readonly toDeg: number
  readonly count: number
}

export const angleAt = ({ fromDeg, toDeg, count }: Angles, i: number): number =>
  count === 1 ? (fromDeg + toDeg) / 2 : fromDeg + ((toDeg - fromDeg) * i) / (count - 1)

/** Where cells and words of a contact sheet lie, pixels: rows of tilt from the top down, columns of turn. */
export interface ContactLayout {
  readonly width: number
  readonly height: number
  readonly letter: number
  cell(row: number, column: number): { readonly x: number; readonly y: number }
}

export interface ContactSize {
  readonly cellWidth: number
  readonly cellHeight: number
  readonly tilt: Angles
  readonly turn: Angles
}

/** Free space beside what is written, in its heights. */
const air = 1

export function contactLayout(size: ContactSize): ContactLayout {
  const { cellWidth, cellHeight, tilt, turn } = size
  const letter = Math.max(8, Math.min(32, Math.round(Math.min(cellWidth, cellHeight) / 14)))
  const gap = Math.max(2, Math.round(letter / 3))
  const wordsWide = Math.max(...tiltWords(tilt).map(text => textWidth(text, letter)))
  const left = Math.ceil(wordsWide + 2 * air * letter)
  const top = Math.ceil((1 + 2 * air) * letter)
  return {
    width: left + turn.count * (cellWidth + gap),
    height: top + tilt.count * (cellHeight + gap),
    letter,
    cell: (row, column) => ({ x: left + column * (cellWidth + gap), y: top + row * (cellHeight + gap) }),
  }
}

/** Writes the angles beside rows and columns. @param ink samples of a pixel that is all text */
export function writeAngles(canvas: Canvas, size: ContactSize, ink: readonly number[]): void {
  const { letter, cell } = contactLayout(size)
  for (const [row, text] of tiltWords(size.tilt).entries())
    write(canvas, text, air * letter, cell(row, 0).y + (size.cellHeight + letter) / 2, letter, ink)
  for (const [column, text] of turnWords(size.turn).entries()) {
    const { x, y } = cell(0, column)
    // Columns narrower than their words are named by the number alone.
    const short = textWidth(text, letter) <= size.cellWidth ? text : text.replace('turn ', '')
    const from = x + (size.cellWidth - textWidth(short, letter)) / 2
    write(canvas, short, from, y - air * letter, letter, ink)
  }
}

/** Copies a picture onto a larger one of the same samples. */
export function place(canvas: Canvas, picture: Canvas, x: number, y: number): void {
  const row = picture.width * picture.channels
  for (let j = 0; j < picture.height; j++)
    canvas.data.set(
      picture.data.subarray(j * row, (j + 1) * row),
      ((y + j) * canvas.width + x) * canvas.channels,
    )
}

const words = (what: string, angles: Angles): readonly string[] =>
  Array.from({ length: angles.count }, (_, i) => `${what} ${degreeWords(angleAt(angles, i))}`)
const tiltWords = (tilt: Angles) => words('tilt', tilt)
const turnWords = (turn: Angles) => words('turn', turn)

/** At most one digit after the point, a true minus sign. */
const degreeWords = (deg: number): string => `${String(Number(deg.toFixed(1)) + 0).replace('-', '−')}°`
