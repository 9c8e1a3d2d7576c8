import { BadInput } from '../../base/finding.ts'
import { readXml, type XmlElement } from '../../base/xml.ts'

/** What to do about a file that is packed, and about one that is no SVG. */
export interface RootFixes {
  readonly packed: string
  readonly other: string
}

/**
 * The outermost element of an SVG, and the prefix of its names (`svg:` or none).
 * @throws BadInput `not-svg`, or as `readXml`
 */
export function svgRoot(
  bytes: Uint8Array,
  name: string,
  fixes: RootFixes,
): { readonly root: XmlElement; readonly prefix: string } {
  if (bytes[0] === 0x1f && bytes[1] === 0x8b)
    throw new BadInput('not-svg', name, 'byte 0', 'this is a packed SVG', fixes.packed)
  const root = readXml(bytes, name)
  const prefix = root.name.endsWith(':svg') ? root.name.slice(0, -3) : ''
  if (root.name !== `${prefix}svg`)
    throw new BadInput(
      'not-svg',
      name,
      `line ${root.line}`,
      `this is XML of another kind (<${root.name.slice(0, 40)}>)`,
      fixes.other,
    )
  return { root, prefix }
}
