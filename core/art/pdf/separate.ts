import { BadInput, type Finding } from '../../base/finding.ts'
import { type ColorEnd, type ColorEngine, type ColorTransform, forPictures } from '../../color/profile.ts'
import { requirePrinting } from '../../color/profile-header.ts'
import type { ColourSource, Separator } from './reading.ts'

/**
 * Makes C, M, Y, K of the print condition from colours that are no inks: media-relative, black point compensated, as
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
  const target = { icc: profile }
  const transforms = new Map<Uint8Array | ColorEnd, ColorTransform>()
  const told = new Set<string>()
  const tell = (finding: Finding): void => {
    if (told.has(finding.code)) return
    told.add(finding.code)
    findings.push(finding)
  }
  const made = (key: Uint8Array | ColorEnd, from: ColorEnd): ColorTransform => {
    const known = transforms.get(key)
    if (known !== undefined) return known
    const transform = engine.transform(from, target, forPictures, file)
    transforms.set(key, transform)
    return transform
  }
  const ofProfile = (icc: Uint8Array): ColorTransform | null => {
    try {
      const transform = made(icc, { icc })
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
  const cmyk = (source: ColourSource, values: Float32Array): Float32Array => {
    if (source.space === 'Lab') return made('Lab', 'Lab').run(packedLab(values))
    const { profile: icc } = source
    const transform = icc === null ? null : ofProfile(icc)
    if (transform !== null) return transform.run(values)
    if (icc === null)
      tell({
        severity: 'note',
        code: 'pdf-rgb-without-profile',
        where: 'colours',
        message: 'RGB without a colour profile: taken for sRGB and separated for the print condition.',
        fix: 'Save the file with its colour profile, or with the inks that are to be printed',
      })
    return made('sRGB', 'sRGB').run(values)
  }
  const separator = { profile, cmyk, close: () => closeAll(transforms) }
  forgotten.register(separator, transforms)
  return separator
}

function closeAll(transforms: Map<unknown, ColorTransform>): void {
  for (const transform of transforms.values()) transform.close()
  transforms.clear()
}

const forgotten = new FinalizationRegistry<Map<unknown, ColorTransform>>(closeAll)

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
