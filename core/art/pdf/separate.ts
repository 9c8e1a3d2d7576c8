import { BadInput, type Finding } from '../../base/finding.ts'
import { labToXyz } from '../../color/lab.ts'
import { type ColorEnd, type ColorEngine, type ColorTransform, forPictures } from '../../color/profile.ts'
import { requirePrinting } from '../../color/profile-header.ts'
import { encode } from '../../color/rgb.ts'
import { whiteD50 } from '../../color/xyz.ts'
import type { ColorSource, Separator } from './reading.ts'

/**
 * Makes C, M, Y, K of the print condition from colours that are no inks, and light of both: media-relative, black point compensated, as
 * pictures are separated. RGB without a profile is taken for sRGB; a profile that cannot be used is too. Both are told
 * once. Close it when the page is read: what is opened after that (by shadings that are read from place to place) is
 * closed once nobody can ask for it. Throws BadInput where `profile` is no printing profile or has no way to ink.
 * @param profile bytes of an ICC profile; @param file name for messages
 */
export function makeSeparator(
  engine: ColorEngine,
  profile: Uint8Array,
  file: string,
  findings: Finding[],
): Separator & { close(): void } {
  requirePrinting(profile, file)
  const transforms = new Map<Key, Map<Key, ColorTransform>>()
  const told = new Set<string>()
  const tell = (finding: Finding): void => {
    if (told.has(finding.code)) return
    told.add(finding.code)
    findings.push(finding)
  }
  const made = (from: Key, to: Key): ColorTransform => {
    const known = transforms.get(from) ?? new Map<Key, ColorTransform>()
    transforms.set(from, known)
    const before = known.get(to)
    if (before !== undefined) return before
    const transform = engine.transform(endOf(from), endOf(to), forPictures, file)
    known.set(to, transform)
    return transform
  }
  const ofProfile = (icc: Uint8Array, to: Key): ColorTransform | null => {
    try {
      const transform = made(icc, to)
      if (transform.inputs === 3) return transform
    } catch (error) {
      if (!(error instanceof BadInput)) throw error
    }
    tell({
      severity: 'warning',
      code: 'pdf-profile-unusable',
      where: 'colour profile',
      message: `A colour profile of ${icc.length} bytes cannot be used; its colours are taken for sRGB.`,
      fix: 'Save the file again with the profile that its colours are made for',
    })
    return null
  }
  const through = (source: ColorSource, to: Key, values: Float32Array): Float32Array => {
    if (source.space === 'Lab') return made('Lab', to).run(packedLab(values))
    const { profile: icc } = source
    const transform = icc === null ? null : ofProfile(icc, to)
    if (transform !== null) return transform.run(values)
    if (icc === null)
      tell({
        severity: 'note',
        code: 'pdf-rgb-without-profile',
        where: 'colours',
        message: 'RGB without a colour profile: taken for sRGB and separated for the print condition.',
        fix: 'Save the file with its colour profile, or with the inks that are to be printed',
      })
    return to === 'sRGB' ? values : made('sRGB', to).run(values)
  }
  const light: Separator['light'] = (source, { space, ...of }, values) => {
    const icc = 'profile' in of ? of.profile : null
    const to = space === 'Gray' ? 'Lab' : (icc ?? 'sRGB')
    if (source.space === 'RGB' && source.profile !== null && source.profile === to) return values.slice()
    const run = (end: Key) =>
      source.space === 'CMYK' ? made(profile, end).run(values) : through(source, end, values)
    const found = run(to)
    return space === 'Gray' ? greyOf(found) : found.slice()
  }
  const cmyk: Separator['cmyk'] = (source, values) => through(source, profile, values)
  const separator = { profile, cmyk, light, close: () => closeAll(transforms) }
  forgotten.register(separator, transforms)
  return separator
}

/** Bytes of a profile, or a space that needs none. */
type Key = Uint8Array | 'sRGB' | 'Lab'
const endOf = (key: Key): ColorEnd => (typeof key === 'string' ? key : { icc: key })

/** Grey of packed Lab: its Y, coded as screens do. */
function greyOf(labs: Float32Array): Float32Array {
  const out = new Float32Array(labs.length / 3)
  for (let i = 0; i < out.length; i++)
    out[i] = Math.min(1, Math.max(0, encode(labToXyz([100 * labs[3 * i]!, 0, 0], whiteD50)[1])))
  return out
}

function closeAll(transforms: Map<unknown, Map<unknown, ColorTransform>>): void {
  for (const of of transforms.values()) for (const transform of of.values()) transform.close()
  transforms.clear()
}

const forgotten = new FinalizationRegistry<Map<unknown, Map<unknown, ColorTransform>>>(closeAll)

/** Lab as the engine's door wants it: each 0..1. */
function packedLab(values: Float32Array): Float32Array {
  const out = new Float32Array(values.length)
  for (let i = 0; i < values.length; i += 3) {
    out[i] = values[i]! / 100
    out[i + 1] = (values[i + 1]! + 128) / 255
    out[i + 2] = (values[i + 2]! + 128) / 255
  }
  return out
}
