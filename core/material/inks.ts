import type { Surface } from '../art/composite.ts'
import { heldStrips } from '../art/held-picture.ts'
import type { Art, ArtFile, Box, ColorMode, Layer } from '../art/layer.ts'
import { BadInput, type Finding } from '../base/finding.ts'
import type { PrintCondition } from '../color/print-condition.ts'
import { type ColorEngine, type ColorTransform, forPictures } from '../color/profile.ts'
import { type Rgb, rgbReader } from '../roles/tone.ts'
import type { StripOptions } from './coverage.ts'
import { SurfaceRows } from './rows.ts'

/** Inks of the artwork over document pixels. */
export interface InkStrip {
  readonly box: Box
  /** Ink `c` (C M Y K) of pixel `i`, 0..1. */
  read(c: number, i: number): number
}

export interface InkRows {
  over(top: number, bottom: number): Promise<InkStrip | null>
  close(): void
}

/** Layers that print in process inks. */
export interface PrintedLayers {
  readonly layers: readonly Layer[]
  /** Ids of those that knock out of them: see `knockingLayers`. */
  readonly knocking: readonly string[]
}

/** What turns colours into the press's inks. */
export interface Press {
  readonly engine: ColorEngine
  /** The press condition: bytes of a CMYK profile. */
  readonly profile: Uint8Array
  /** File name of the profile, for messages. */
  readonly name?: string
  /** The same profile as the map carries it; left out: the map has none. */
  readonly condition?: PrintCondition
}

/**
 * The artwork's layers as C, M, Y, K. CMYK numbers stay what they are. Grey art prints in black alone. RGB, indexed
 * and Lab art is separated, relative colorimetric with black point compensation, from the file's profile (else sRGB)
 * to the press's; a finding says so.
 */
export function inkRows(
  file: ArtFile,
  { layers, knocking }: PrintedLayers,
  press: Press,
  options: StripOptions,
  findings: Finding[],
): InkRows {
  const { art } = file
  const chosen = new Set(layers.map(layer => layer.id))
  const region: Box = { left: 0, top: 0, right: art.width, bottom: art.height }
  const quiet = options.task?.signal ? { signal: options.task.signal } : undefined
  const strips = heldStrips(
    file,
    chosen,
    { stripRows: options.rows, keep: options.keep, knocking: new Set(knocking) },
    quiet,
  )
  const rows = layers.length === 0 ? null : new SurfaceRows(strips, region)
  const separation = layers.length === 0 ? null : separate(art, press, findings)
  const toStrip = separation ? separatedInks(art, separation) : plainInks(art.colorMode)
  return {
    over: async (top, bottom) => {
      const surface = await rows?.over(top, bottom)
      return surface ? { box: surface.box, read: toStrip(surface) } : null
    },
    close: () => separation?.close(),
  }
}

function plainInks(mode: ColorMode): (surface: Surface) => InkStrip['read'] {
  if (mode === 'CMYK')
    return ({ planes, alpha }) =>
      (c, i) =>
        alpha[i]! * (1 - planes[c]![i]!)
  if (mode === 'Multichannel') return () => () => 0
  return ({ planes, alpha }) =>
    (c, i) =>
      c === 3 ? alpha[i]! * (1 - planes[0]![i]!) : 0
}

function separatedInks(art: Art, transform: ColorTransform): (surface: Surface) => InkStrip['read'] {
  const rgb = rgbReader(art)
  const colour: Rgb = [0, 0, 0]
  return surface => {
    const count = surface.alpha.length
    const pixels = new Float32Array(count * 3)
    for (let i = 0; i < count; i++) {
      if (surface.alpha[i] === 0) continue
      if (art.colorMode === 'Lab') for (let c = 0; c < 3; c++) pixels[i * 3 + c] = surface.planes[c]![i]!
      else pixels.set(rgb(surface, i, colour), i * 3)
    }
    const inks = transform.run(pixels)
    return (c, i) => surface.alpha[i]! * inks[i * 4 + c]!
  }
}

/** The separation that a file's colours need, or null when they are inks already. */
function separate(art: Art, press: Press, findings: Finding[]): ColorTransform | null {
  switch (art.colorMode) {
    case 'CMYK':
    case 'Multichannel':
      return null
    case 'Grayscale':
    case 'Bitmap':
    case 'Duotone':
      findings.push({
        severity: 'note',
        code: 'grey-as-black',
        where: 'document',
        message: 'grey artwork, printed in black ink alone',
        fix: 'Turn it into CMYK in its own program if it should print in more inks.',
      })
      return null
    case 'RGB':
    case 'Indexed':
    case 'Lab':
      return separated(art, press, findings)
  }
}

function separated(art: Art, press: Press, findings: Finding[]): ColorTransform {
  const target = press.engine.inspect(press.profile, press.name ?? 'press profile').name
  const made = (from: Uint8Array | null) =>
    press.engine.transform(
      art.colorMode === 'Lab' ? 'Lab' : from ? { icc: from } : 'sRGB',
      { icc: press.profile },
      forPictures,
      art.name,
    )
  const note = (source: string): Finding => ({
    severity: 'warning',
    code: 'separated',
    where: 'document',
    message: `${art.colorMode} artwork, separated from ${source} to ${target}`,
    fix: 'Hand over CMYK if the inks matter: the printer’s own separation will differ.',
  })
  if (art.colorMode === 'Lab' || art.profile === null) {
    findings.push(note(art.colorMode === 'Lab' ? 'its Lab numbers' : 'sRGB, since no profile is embedded,'))
    return made(null)
  }
  try {
    const { name, space } = press.engine.inspect(art.profile.bytes, art.name)
    const transform = made(space === 'RGB' ? art.profile.bytes : null)
    findings.push(note(space === 'RGB' ? `"${name}"` : `sRGB, since its profile "${name}" is for ${space},`))
    return transform
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    findings.push(note('sRGB, since its embedded profile cannot be used,'))
    return made(null)
  }
}
