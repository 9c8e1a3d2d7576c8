import type { Finding } from '../../base/finding.ts'
import type { ColorMode } from '../layer.ts'
import { saveAgain } from '../place.ts'
import { resolutionOf } from '../resolution.ts'
import type { Resource } from './resources.ts'

const resolutionInfo = 1005
const versionInfo = 1057

/** Pixels an inch, or null when the file gives none that can be used. */
export function readResolution(resources: ReadonlyMap<number, Resource>, findings: Finding[]): number | null {
  const cursor = resources.get(resolutionInfo)?.cursor()
  // 16.16 fixed point, always pixels an inch: the unit beside it is only how a dialog shows it.
  if (!cursor || cursor.left < 12) return resolutionOf(0, 0, findings)
  const across = cursor.u32() / 65536
  cursor.skip(4)
  return resolutionOf(across, cursor.u32() / 65536, findings)
}

/** True when the file says that its flattened picture is only a stand-in. */
export function saysNoPicture(resources: ReadonlyMap<number, Resource>): boolean {
  const cursor = resources.get(versionInfo)?.cursor()
  if (!cursor || cursor.left < 5) return false
  cursor.skip(4)
  return cursor.u8() === 0
}

/** 256 colours of an indexed file: all reds, all greens, all blues. */
export function readPalette(mode: ColorMode, colorData: Uint8Array, findings: Finding[]): Uint8Array | null {
  if (mode === 'Duotone')
    findings.push({
      severity: 'warning',
      code: 'duotone-inks-not-read',
      where: 'colour data',
      message: 'the inks and curves of a duotone are not published; its grey picture is used',
      fix: 'Convert the art to multichannel, so that each ink is a channel.',
    })
  if (mode !== 'Indexed') return null
  if (colorData.length >= 768) return colorData.slice(0, 768)
  findings.push({
    severity: 'warning',
    code: 'palette-missing',
    where: 'colour data',
    message: `expected a table of 768 bytes, got ${colorData.length}`,
    fix: saveAgain,
  })
  return null
}
