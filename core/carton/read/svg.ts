import type { LengthUnit } from '../../art/svg/length.ts'
import { svgRoot } from '../../art/svg/root.ts'
import { viewOf } from '../../art/svg/view.ts'
import type { Drawing } from './drawing.ts'
import { passedFindings } from './svg-passed.ts'
import { initialStyle } from './svg-style.ts'
import { Walk } from './svg-walk.ts'

export interface SvgOptions {
  /** What one unit of the drawing is, where the user knows better than the file. */
  readonly unit?: LengthUnit
}

/**
 * Lines of an SVG drawing in mm, with the names of the groups they lie in. Pictures, text, clips and scripts are not
 * read, and nothing outside the file is.
 * @param name  file name, for messages
 * @throws BadInput when the file is no SVG, is broken, or holds more than a drawing can
 */
export function readSvg(bytes: Uint8Array, name: string, options: SvgOptions = {}): Drawing {
  const { root, prefix } = svgRoot(bytes, name, {
    packed: 'Unpack it, or save it as plain SVG',
    other: 'Save the die as SVG',
  })
  const page = viewOf(root, options.unit)
  const walk = new Walk(name, root, prefix, page.size)
  walk.members(root, { matrix: page.matrix, style: initialStyle, names: [], view: page.size, uses: [] })
  return {
    name,
    lines: walk.lines,
    widthMm: page.widthMm,
    heightMm: page.heightMm,
    scale: page.scale,
    findings: [...page.findings.map(one => ({ ...one, at: null })), ...passedFindings(walk.passed)],
  }
}
