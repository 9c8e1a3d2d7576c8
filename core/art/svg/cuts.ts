import type { XmlElement } from '../../base/xml.ts'
import type { Mark, SoftMask } from '../ink/mark.ts'
import { times } from '../ink/matrix.ts'
import { moved } from '../ink/path.ts'
import type { FillRule, Matrix } from '../path.ts'
import { type Around, alphaAim, apart, clipAim, type DrawMembers, maskAim } from './around.ts'
import { boundsOfMarks, clippedTo } from './clipping.ts'
import type { SvgFile } from './file.ts'
import { unitsOf } from './length.ts'
import { boxMatrix, rectangle } from './path.ts'
import { firstStyle, ruleOf, styleWithin } from './style.ts'
import { transformOf } from './transform.ts'

/** Where a cut is made. */
export interface CutHow {
  readonly file: SvgFile
  readonly draw: DrawMembers
  /** The element that is cut, what holds in it, and its marks. */
  readonly element: XmlElement
  readonly here: Around
  readonly marks: readonly Mark[]
}

export interface Cut {
  readonly marks: readonly Mark[]
  readonly softMasks: readonly SoftMask[]
}

/** Marks cut by a `clipPath`: by its path where it is one shape, else by the picture of its shapes. Source: SVG 1.1, section 14.3. */
export function clipBy(reference: string, how: CutHow): Cut {
  const { file, draw, element, here, marks } = how
  const uncut = { marks, softMasks: [] }
  const clip = file.find(reference, element.line)
  if (clip === undefined || file.tag(clip) !== 'clipPath' || here.uses.includes(reference)) return uncut
  const boxed = unitsMatrix(clip.attributes.clipPathUnits, here, marks)
  const own = transformOf(clip.attributes.transform ?? '')
  if (boxed === null || own === null) return uncut
  const around = apart(here, times(own, boxed), reference)
  const rule = clipRule(file, clip)
  const shapes = draw(clip, around, clipAim).map(shape =>
    shape.kind === 'fill' ? { ...shape, rule } : shape,
  )
  const outer = file.says(clip)('clip-path') ?? 'none'
  const cut =
    outer === 'none' ? uncut : clipBy(outer, { ...how, element: clip, here: { ...here, uses: around.uses } })
  const [first, ...others] = shapes
  if (first === undefined) return { marks: [], softMasks: [] }
  if (others.length === 0 && first.kind === 'fill' && first.clip === null && first.softMask === null)
    return { marks: clippedTo(cut.marks, first.path, rule), softMasks: cut.softMasks }
  const softMask: SoftMask = { from: 'alpha', marks: shapes, clip: null, backdrop: 0, transfer: null }
  return { marks: cut.marks, softMasks: [...cut.softMasks, softMask] }
}

/** The rule of the shapes of a clip: said around them or by the first of them. */
function clipRule(file: SvgFile, clip: XmlElement): FillRule {
  const said = [clip, ...clip.children].map(one => file.says(one)('clip-rule'))
  return ruleOf(said.find(one => one !== undefined) ?? 'nonzero')
}

/** A `mask` as opacity from place to place; null where there is none. Source: SVG 1.1, section 14.4; CSS Masking 1, mask-type. */
export function maskBy(reference: string, { file, draw, element, here, marks }: CutHow): SoftMask | null {
  const mask = file.find(reference, element.line)
  if (mask === undefined || file.tag(mask) !== 'mask' || here.uses.includes(reference)) return null
  const { attributes } = mask
  const onBox = attributes.maskUnits !== 'userSpaceOnUse'
  const content = unitsMatrix(attributes.maskContentUnits, here, marks)
  const region = unitsMatrix(onBox ? 'objectBoundingBox' : undefined, here, marks)
  if (content === null || region === null) return null
  const says = file.says(mask)
  const from = says('mask-type') === 'alpha' ? 'alpha' : 'luminosity'
  const around = { ...apart(here, content, reference), style: styleWithin(firstStyle, says) }
  const drawn = draw(mask, around, from === 'alpha' ? alphaAim : maskAim)
  const [wide, high] = onBox ? [1, 1] : here.view
  const frame = rectangle(
    unitsOf(attributes.x ?? '-10%', wide),
    unitsOf(attributes.y ?? '-10%', high),
    unitsOf(attributes.width ?? '120%', wide),
    unitsOf(attributes.height ?? '120%', high),
  )
  return {
    from,
    marks: clippedTo(drawn, moved(frame, region), 'nonzero'),
    clip: null,
    backdrop: 0,
    transfer: null,
  }
}

/** Units of a clip or mask: the user's, or the box of what it is laid on; null where that has none. */
function unitsMatrix(units: string | undefined, here: Around, marks: readonly Mark[]): Matrix | null {
  if (units !== 'objectBoundingBox') return here.matrix
  const bounds = boundsOfMarks(marks, here.matrix)
  return bounds === null ? null : times(boxMatrix(bounds), here.matrix)
}
