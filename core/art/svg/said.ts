import type { Finding } from '../../base/finding.ts'
import type { XmlElement } from '../../base/xml.ts'

/** What of a drawing is not as it would be shown: alike things are said once, with the first of them. */
const kinds = {
  external: {
    severity: 'error',
    message: 'lies outside of the file and is not fetched',
    fix: 'Place it inside the drawing (embed it) and save again.',
  },
  image: {
    severity: 'error',
    message: 'is a picture that cannot be read',
    fix: 'Place it as PNG or JPEG inside the drawing, or hand it over as a file of its own.',
  },
  text: {
    severity: 'error',
    message: 'is live type: its letters are not in the file, so that nothing of it is drawn',
    fix: 'Turn text into outlines before the drawing is saved.',
  },
  filter: {
    severity: 'error',
    message: 'has a filter, which is not drawn',
    fix: 'Turn what the filter makes into a picture or shapes.',
  },
  foreign: {
    severity: 'error',
    message: 'is of another language than SVG and is not drawn',
    fix: 'Turn it into shapes.',
  },
  blend: {
    severity: 'error',
    message: 'is laid over what lies below it in a way that is not known; it is laid over plainly',
    fix: 'Choose another way of blending.',
  },
  reference: {
    severity: 'warning',
    message: 'is not in the file; what names it is drawn without it',
    fix: 'Draw it again, or save the drawing again as plain SVG.',
  },
  colour: {
    severity: 'warning',
    message: 'is no colour; black is taken',
    fix: 'Give it a plain colour.',
  },
  broken: {
    severity: 'warning',
    message: 'is drawn only as far as it can be read',
    fix: 'Draw the shape again, or save the drawing again as plain SVG.',
  },
  rules: {
    severity: 'warning',
    message: 'is a rule of its style sheet that is passed over',
    fix: 'Save the drawing with presentation attributes or plain classes.',
  },
  script: {
    severity: 'note',
    message: 'is not run',
    fix: 'Nothing, if the drawing looks right as it opens.',
  },
  motion: {
    severity: 'note',
    message: 'moves; it is drawn as it begins',
    fix: 'Nothing, if the drawing looks right as it opens.',
  },
  hidden: {
    severity: 'note',
    message: 'is hidden and belongs to no layer; it is left out',
    fix: 'Show it in the drawing if it belongs to the art.',
  },
} as const satisfies Record<string, Pick<Finding, 'severity' | 'message' | 'fix'>>

export type SaidKind = keyof typeof kinds

const isInexact = (kind: SaidKind): boolean => kinds[kind].severity === 'error'
/** Of one kind, told one by one: then only how many more there are. */
const mostTold = 8

/** Gathers what is to be said of a drawing. */
export class Said {
  private readonly told = new Map<
    SaidKind,
    { readonly first: Finding[]; count: number; readonly seen: Set<string> }
  >()

  /**
   * @param line  of the file
   * @param what  the thing, in a few words
   */
  say(kind: SaidKind, line: number, what: string, detail = ''): void {
    const own = this.told.get(kind) ?? { first: [], count: 0, seen: new Set<string>() }
    this.told.set(kind, own)
    const key = `${line} ${what}`
    if (own.seen.has(key)) return
    own.seen.add(key)
    own.count++
    if (own.first.length >= mostTold) return
    const { severity, message, fix } = kinds[kind]
    own.first.push({
      severity,
      code: `svg-${kind}`,
      where: `line ${line} of the file`,
      message: `${what} ${message}${detail === '' ? '' : `: ${detail}`}`,
      fix,
    })
  }

  /** Those that make the inks of a place other than they would be shown, and the others. */
  findings(inexact: boolean): readonly Finding[] {
    return [...this.told].flatMap(([kind, { first, count }]) => {
      if (isInexact(kind) !== inexact) return []
      const more = count - first.length
      return more === 0
        ? first
        : first.map((one, i) =>
            i < first.length - 1 ? one : { ...one, message: `${one.message}; ${more} more like it` },
          )
    })
  }
}

/** Words of a file in a message: no longer than a line. */
export const quoted = (text: string): string => {
  const plain = text.replace(/\s+/g, ' ').trim()
  return `"${plain.length > 60 ? `${plain.slice(0, 57)}…` : plain}"`
}

/** What an element is called in a message. */
export function named({ name, attributes: { id } }: XmlElement): string {
  return id === undefined ? `a ${name.replace(/^.*:/, '')}` : quoted(id)
}
