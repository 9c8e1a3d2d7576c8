import type { PDFFont } from '../base/pdf.ts'
import { proofLabel } from '../proof/names.ts'
import { reals } from './pdf-content.ts'
import type { PlateLabel, Reading } from './plate-wish.ts'

/** Height of the type and distance of its lines, mm. */
const typeMm = 2.3
const lineMm = 3.4
/** A patch of the solid before the name of a plate, and gaps, mm. */
const patch = { width: 3, height: 2, gap: 1, after: 4 } as const

/** A word of the label with the inks it is printed in: all of the page, or one by its number. */
interface Word {
  readonly text: string
  readonly ink: number | null
  readonly width: number
}

/** The label of a page, broken into lines that fit. */
export interface Label {
  readonly lines: readonly (readonly Word[])[]
  /** mm */
  readonly height: number
}

/**
 * What a page says of itself: the job, how it is read, when and by what it was made, and each plate by its name in its
 * own ink.
 * @param widthMm of a line at most; a word that is longer stands alone
 */
export function labelOf(
  font: PDFFont,
  { jobName, program, version, madeAt }: PlateLabel,
  page: {
    readonly reading: Reading
    readonly number: number
    readonly count: number
    readonly inks: readonly string[]
  },
  widthMm: number,
): Label {
  const reading =
    page.reading === 'right' ? 'right reading' : 'wrong reading: mirrored, for the far side of the film'
  const said = [
    jobName,
    ...(page.count > 1 ? [`page ${page.number} of ${page.count}`] : []),
    reading,
    `version ${version}`,
    `${madeAt.slice(0, 16).replace('T', ' ')} UTC`,
    `rakelight ${program}`,
    proofLabel,
  ]
  const word = (text: string, ink: number | null): Word => {
    const fit = encodable(font, text)
    return {
      text: fit,
      ink,
      width: font.widthOfTextAtSize(fit, typeMm) + (ink === null ? 0 : patch.width + patch.gap),
    }
  }
  const lines = [
    ...broken(
      said.map(text => word(text, null)),
      widthMm,
    ),
    ...broken(
      page.inks.map((name, ink) => word(name, ink)),
      widthMm,
    ),
  ]
  return { lines, height: lines.length * lineMm }
}

/**
 * The label as page content, mm.
 * @param top of its first line
 * @param paint chooses the colour of all inks (null) or of one
 */
export function labelContent(
  font: PDFFont,
  { lines }: Label,
  left: number,
  top: number,
  paint: (ink: number | null) => string,
): readonly string[] {
  const out: string[] = []
  for (const [i, line] of lines.entries()) {
    const y = top - (i + 1) * lineMm + (lineMm - typeMm) / 2
    let x = left
    for (const { text, ink, width } of line) {
      out.push(paint(ink))
      let at = x
      if (ink !== null) {
        // The frame is of all inks, so that a patch of white is seen to be there.
        out.push(`0.1 w ${reals(x, y, patch.width, patch.height)} re B`)
        at += patch.width + patch.gap
      }
      out.push(`BT /F1 ${reals(typeMm)} Tf ${reals(at, y)} Td ${font.encodeText(text)} Tj ET`)
      x += width + patch.after
    }
  }
  return out
}

function broken(words: readonly Word[], widthMm: number): readonly (readonly Word[])[] {
  const lines: Word[][] = []
  let room = 0
  for (const word of words) {
    const line = lines.at(-1)
    if (line && word.width <= room) line.push(word)
    else {
      lines.push([word])
      room = widthMm
    }
    room -= word.width + patch.after
  }
  return lines
}

/** The same text with a question mark for each sign that the font of the label does not have. */
function encodable(font: PDFFont, text: string): string {
  return [...text]
    .map(sign => {
      try {
        font.encodeText(sign)
        return sign
      } catch {
        return '?'
      }
    })
    .join('')
}
