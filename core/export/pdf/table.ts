import { type Flow, leading, type SheetPicture, type Style, styles } from './flow.ts'
import { border, columnWidth } from './paper.ts'

/** What a cell shows: words, or pictures side by side. */
export type Cell =
  | string
  | { readonly text: string; readonly style: Style }
  | { readonly pictures: readonly SheetPicture[]; readonly height: number }

export interface Column {
  /** Left empty where what is in it speaks for itself. */
  readonly head: string
  /** Its part of the width; all are weighed together. */
  readonly part: number
}

/** Free space beside words and between rows, points. */
const between = 8
const air = 3

/** A table whose head stands again on every page that it reaches. Rows stay whole where a page can hold them. */
export function table(flow: Flow, columns: readonly Column[], rows: readonly (readonly Cell[])[]): void {
  const sum = columns.reduce((whole, { part }) => whole + part, 0)
  const free = columnWidth - between * (columns.length - 1)
  const widths = columns.map(({ part }) => (free * part) / sum)
  const lefts = widths.map(
    (_, i) => border.left + widths.slice(0, i).reduce((at, width) => at + width + between, 0),
  )
  const named = columns.some(({ head }) => head !== '')
  const head = (): void => {
    if (!named) return
    const words = columns.map(({ head: text }, i) => flow.lines(text, styles.head, widths[i]!))
    const high = Math.max(...words.map(lines => lines.length)) * styles.head.size * leading
    for (const [i, lines] of words.entries())
      for (const [k, line] of lines.entries())
        flow.put(line, lefts[i]!, flow.y + styles.head.size * (1 + k * leading), styles.head)
    flow.y += high + 1
  }
  const set = rows.map(row => row.map((cell, i) => setCell(flow, cell, widths[i]!)))
  flow.need(styles.head.size * leading + 1 + Math.min(flow.whole / 2, set[0] ? heightOf(set[0]) : 0))
  head()
  for (const row of set) {
    const high = heightOf(row)
    if (high > flow.left && high <= flow.whole - 2 * styles.head.size * leading) {
      flow.newPage()
      head()
    }
    flow.rule(border.left, flow.y, columnWidth, 0.8)
    drawRow(flow, row, lefts, head)
  }
}

/** A cell with its words in lines. */
interface SetCell {
  readonly lines: readonly string[]
  readonly style: Style
  readonly pictures: readonly SheetPicture[]
  readonly high: number
}

function setCell(flow: Flow, cell: Cell, width: number): SetCell {
  if (typeof cell !== 'string' && 'pictures' in cell)
    return { lines: [], style: styles.cell, pictures: cell.pictures, high: cell.height }
  const { text, style } = typeof cell === 'string' ? { text: cell, style: styles.cell } : cell
  const lines = text.split('\n').flatMap(part => flow.lines(part, style, width))
  return { lines, style, pictures: [], high: 0 }
}

const stepOf = ({ style }: SetCell): number => style.size * leading

const heightOf = (row: readonly SetCell[]): number =>
  Math.max(...row.map(cell => Math.max(cell.high, cell.lines.length * stepOf(cell)))) + 2 * air

/** Draws a row; what does not fit goes on below the head of the next page. */
function drawRow(flow: Flow, row: readonly SetCell[], lefts: readonly number[], head: () => void): void {
  let rest = row
  while (true) {
    const room = flow.left - 2 * air
    const next: SetCell[] = []
    let high = 0
    flow.y += air
    for (const [i, cell] of rest.entries()) {
      const step = stepOf(cell)
      const fits = Math.max(1, Math.floor(room / step))
      for (const [k, line] of cell.lines.slice(0, fits).entries())
        flow.put(line, lefts[i]!, flow.y + cell.style.size + k * step, cell.style)
      drawPictures(flow, cell, lefts[i]!)
      high = Math.max(high, cell.high, Math.min(fits, cell.lines.length) * step)
      next.push({ ...cell, lines: cell.lines.slice(fits), pictures: [], high: 0 })
    }
    flow.y += high + air
    if (next.every(({ lines }) => lines.length === 0)) return
    flow.newPage()
    head()
    rest = next
  }
}

function drawPictures(flow: Flow, { pictures, high }: SetCell, left: number): void {
  let x = left
  for (const picture of pictures) {
    const wide = (high * picture.width) / picture.height
    flow.picture(picture, x, flow.y, wide, high)
    x += wide + 2
  }
}

/** Rows of a name and what it is. */
export function facts(flow: Flow, rows: readonly (readonly [name: string, value: Cell])[]): void {
  table(
    flow,
    [
      { head: '', part: 1 },
      { head: '', part: 3.4 },
    ],
    rows.map(([name, value]) => [{ text: name, style: { ...styles.cell, grey: 0.35 } }, value]),
  )
}
