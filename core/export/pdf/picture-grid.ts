import { type Flow, leading, type SheetPicture, styles } from './flow.ts'
import { border, columnWidth } from './paper.ts'

/** A picture with words below it. */
export interface Captioned {
  readonly picture: SheetPicture
  readonly title: string
  readonly says: string
}

const gutter = 8

/** Pictures in rows, each row as high as its highest. */
export function pictureGrid(flow: Flow, pictures: readonly Captioned[], columns: number): void {
  const width = (columnWidth - gutter * (columns - 1)) / columns
  for (let from = 0; from < pictures.length; from += columns) {
    const row = pictures.slice(from, from + columns).map(one => ({
      ...one,
      high: (width * one.picture.height) / one.picture.width,
      name: flow.lines(one.title, styles.small, width),
      words: flow.lines(one.says, styles.caption, width),
    }))
    const pictureHigh = Math.max(...row.map(({ high }) => high))
    const step = styles.caption.size * leading
    const nameStep = styles.small.size * leading
    const wordsHigh = Math.max(...row.map(({ name, words }) => name.length * nameStep + words.length * step))
    flow.need(pictureHigh + wordsHigh + 12)
    for (const [i, { picture, high, name, words }] of row.entries()) {
      const x = border.left + i * (width + gutter)
      flow.picture(picture, x, flow.y, width, high)
      let y = flow.y + pictureHigh + 3
      for (const line of name) {
        flow.put(line, x, y + styles.small.size, styles.small)
        y += nameStep
      }
      for (const line of words) {
        flow.put(line, x, y + styles.caption.size, styles.caption)
        y += step
      }
    }
    flow.y += pictureHigh + wordsHigh + 12
  }
}
