import type { DieFinding } from './drawing.ts'

/** What of a drawing was passed over: how many of each, and shapes that cannot be read whole, by the line of the file. */
export interface Passed {
  hidden: number
  pictures: number
  text: number
  uses: number
  readonly broken: { readonly line: number; readonly what: string }[]
}

export function passedFindings({ hidden, pictures, text, uses, broken }: Passed): readonly DieFinding[] {
  const note = (code: string, message: string, fix: string): DieFinding => ({
    severity: 'note',
    code,
    where: 'the drawing',
    at: null,
    message,
    fix,
  })
  const [first, ...others] = broken
  return [
    ...(first === undefined
      ? []
      : [
          {
            severity: 'warning',
            code: 'shape-broken',
            where: `line ${first.line} of the file`,
            at: null,
            message: `a shape is drawn only as far as it can be read: ${first.what}${others.length > 0 ? `; ${others.length} more like it` : ''}`,
            fix: 'Draw the shape again, or save the drawing again as plain SVG.',
          } as const,
        ]),
    ...(hidden > 0
      ? [
          note(
            'lines-hidden',
            `${hidden} hidden shapes are left out`,
            'Show them in the drawing if they belong to the die.',
          ),
        ]
      : []),
    ...(pictures > 0
      ? [
          note(
            'pictures-left-out',
            `${pictures} pictures are left out: a die is made of lines`,
            'Nothing, if the die is drawn.',
          ),
        ]
      : []),
    ...(text > 0 ? [note('text-left-out', `${text} pieces of text are left out`, 'Nothing.')] : []),
    ...(uses > 0
      ? [
          note(
            'uses-left-out',
            `${uses} repeated parts are left out: what they repeat is not in the file`,
            'Expand symbols before saving.',
          ),
        ]
      : []),
  ]
}
