import type { Finding } from '../base/finding.ts'
import { readWholePng, type WholePng } from '../base/png-read.ts'
import type { ByteSource } from '../base/source.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { flatFile } from './flat-file.ts'
import { namedProfile } from './icc-name.ts'
import type { ArtFile, Channel, ColorMode, Plane, Rows } from './layer.ts'
import { readExactly } from './read-exactly.ts'
import { resolutionOf } from './resolution.ts'
import { samplePlane } from './sample-plane.ts'

const side = 300_000

/**
 * Opens a PNG as one flat layer, with its alpha. It is unpacked at once and held.
 * @throws BadInput when the file cannot be used
 */
export async function openPng(
  source: ByteSource,
  options: { readonly memoryBudget: number },
  task?: Task,
): Promise<ArtFile> {
  const findings: Finding[] = []
  const bytes = await readExactly(source, 0, source.size, { file: source.name, part: null })
  checkCancelled(task)
  // At most four samples of two bytes, packed and unpacked.
  const png = await readWholePng(bytes, source.name, { side, pixels: options.memoryBudget / 16 })
  checkCancelled(task)
  const { width, height, bits, channels: samples } = png
  const mode = modeOf(png)
  const process = mode === 'RGB' ? 3 : 1
  const transparent = samples === process + 1 || png.clear !== null
  const channels: Channel[] = transparent
    ? [{ id: 'alpha', name: 'Transparency', kind: 'transparency', ink: null, opacity: null, plane: process }]
    : []
  const [across, down] = png.density ?? [0, 0]
  const widened =
    bits < 8 && mode !== 'Indexed'
      ? Uint8Array.from({ length: 2 ** bits }, (_, i) => Math.round((255 * i) / (2 ** bits - 1)))
      : null
  return flatFile(
    {
      name: source.name,
      format: 'PNG',
      width,
      height,
      resolutionPpi: resolutionOf(across, down, findings),
      colorMode: mode,
      depth: mode === 'Bitmap' ? 1 : bits === 16 ? 16 : 8,
      channels,
      profile: png.profile === null ? null : namedProfile(png.profile),
      palette: png.palette === null ? null : planarPalette(png.palette),
      findings,
    },
    async (index, rows) =>
      index === process && png.clear !== null
        ? clearPlane(png, png.clear, rows)
        : samplePlane(png.data, width, samples, index, rows, widened),
  )
}

function modeOf({ palette, channels, bits }: WholePng): ColorMode {
  if (palette !== null) return 'Indexed'
  if (channels >= 3) return 'RGB'
  return bits === 1 ? 'Bitmap' : 'Grayscale'
}

function planarPalette(colours: Uint8Array): Uint8Array {
  const out = new Uint8Array(768)
  for (let i = 0; i < Math.min(256, Math.floor(colours.length / 3)); i++)
    for (let c = 0; c < 3; c++) out[c * 256 + i] = colours[3 * i + c]!
  return out
}

/** Opacity that the file gives by colour: of each of the palette, or none for one colour. Source: PNG third edition, 11.3.1.1. */
function clearPlane(
  { data, width, channels, palette }: WholePng,
  clear: readonly number[],
  rows: Rows,
): Plane {
  if (palette !== null) {
    const opacity = Uint8Array.from({ length: 256 }, (_, i) => clear[i] ?? 255)
    return samplePlane(data, width, 1, 0, rows, opacity)
  }
  const size = width * (rows.bottom - rows.top)
  const out = data instanceof Uint16Array ? new Uint16Array(size) : new Uint8Array(size)
  const most = data instanceof Uint16Array ? 65_535 : 255
  for (let i = 0, at = rows.top * width * channels; i < size; i++, at += channels)
    out[i] = clear.every((value, c) => data[at + c] === value) ? 0 : most
  return { box: { left: 0, right: width, ...rows }, data: out }
}
