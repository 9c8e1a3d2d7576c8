import type { Finding } from '../../base/finding.ts'
import { type Channel, type ColorMode, processCount } from '../layer.ts'
import { damaged, saveAgain } from '../place.ts'
import { processPlate } from '../process-name.ts'
import { readChannels } from '../psd/channels.ts'
import { Cursor } from '../psd/cursor.ts'
import { readResources } from '../psd/resources.ts'
import type { Directory } from './directory.ts'
import type { TiffPage } from './page.ts'
import { tag } from './tags.ts'

/** Where the samples of a document plane come from. */
export interface PlaneSource {
  /** Number among the samples of a pixel; null where the file has no such plane and it holds no ink. */
  readonly sample: number | null
  /** What each number of the file stands for in the plane; null where they are the same. */
  readonly curve: Uint8Array | Uint16Array | null
  /** It is multiplied by the sample {@link TiffColours.alpha}, which is undone. */
  readonly multiplied: boolean
}

export interface TiffColours {
  readonly mode: ColorMode
  /** Bits a sample of the planes: 1, 8 or 16. */
  readonly depth: 1 | 8 | 16
  /** Process planes, then those of the channels. */
  readonly planes: readonly PlaneSource[]
  readonly channels: readonly Channel[]
  /** Number of the sample that says how opaque a pixel is; null where there is none. */
  readonly alpha: number | null
  /** 256 × RGB, all of one after the other. */
  readonly palette: Uint8Array | null
}

const mostResources = 16 * 2 ** 20
const nameInk = 'Give each plate its ink’s name where the file is made.'

/** What each sample of a pixel is: process colour, ink, or opacity. Source: TIFF 6.0, sections 3 to 6, 16, 18, 20, 23. */
export async function readColours(dir: Directory, page: TiffPage, findings: Finding[]): Promise<TiffColours> {
  const { photometric, samples, bits } = page
  const extras =
    dir.count(tag.extraSamples) > samples ? [] : [...((await dir.numbers(tag.extraSamples)) ?? [])]
  /** 0 unspecified, 1 colours are multiplied by it, 2 they are not; null for a colour. */
  const extraOf = (sample: number) => {
    const own = baseOf(photometric)
    const first = own === null ? samples - extras.length : Math.min(own, samples)
    return sample < first ? null : (extras[sample - (samples - extras.length)] ?? 0)
  }
  const names = photometric === 5 ? await inkNames(dir, page, findings) : []
  const isAlpha = (sample: number) => (extraOf(sample) ?? 0) > 0 && names[sample] === undefined
  const found = Array.from({ length: samples }, (_, i) => i).find(isAlpha) ?? null
  const alpha = found
  const multiplied = found !== null && extraOf(found) === 1
  const tell = (severity: Finding['severity'], code: string, where: string, message: string, fix: string) =>
    findings.push({ severity, code, where, message, fix })

  const own = async (): Promise<{ mode: ColorMode; process: readonly (number | null)[] }> => {
    switch (photometric) {
      case 0:
      case 1:
        return { mode: bits === 1 && samples === 1 ? 'Bitmap' : 'Grayscale', process: [0] }
      case 2:
        return { mode: 'RGB', process: [0, 1, 2] }
      case 3:
        return { mode: 'Indexed', process: [0] }
      case 5:
        return separated(await dir.number(tag.inkSet, 1), names, samples, findings)
      case 6:
        if (page.packing === 'jpeg') return { mode: 'RGB', process: [0, 1, 2] }
        break
      case 8:
      case 9:
        return { mode: 'Lab', process: [0, 1, 2] }
    }
    throw damaged(
      dir.place,
      dir.at(tag.photometric),
      photometric === -1
        ? 'it does not say what its colours are'
        : `its colours (photometric ${photometric}) are of a kind that is not read`,
      'color-mode',
      'Save the art as CMYK with its inks, RGB, Lab or grey.',
    )
  }
  const { mode, process } = await own()
  const missing = process.filter(one => one !== null && one >= samples)
  if (missing.length > 0)
    throw damaged(
      dir.place,
      dir.at(tag.samples),
      `${mode} takes ${processCount(mode)} samples a pixel, got ${samples}`,
      'channel-count',
    )
  if (mode === 'Indexed' && (bits > 8 || samples > 1))
    throw damaged(dir.place, dir.at(tag.bits), 'a palette goes with one sample of at most 8 bits', 'depth')
  if (mode === 'Lab' && multiplied)
    tell(
      'warning',
      'alpha-multiplied',
      'transparency',
      'its Lab colours are multiplied by the alpha, which is not undone',
      'Save it without transparency.',
    )

  const rest = Array.from({ length: samples }, (_, i) => i).filter(i => !process.includes(i))
  const told = await resourceChannels(dir, mode, rest.length, alpha !== null && rest[0] === alpha, findings)
  const channels = rest.map((sample, i): Channel => {
    const plane = process.length + i
    const at = told?.[i]
    const name = names[sample] ?? at?.name
    const kind =
      sample === alpha
        ? 'transparency'
        : names[sample] !== undefined || (photometric === 5 && extraOf(sample) === null)
          ? 'spot'
          : (at?.kind ?? (photometric === 5 && extraOf(sample) === 0 ? 'spot' : 'alpha'))
    if (kind === 'spot' && name === undefined)
      tell('warning', 'ink-unnamed', `sample ${sample + 1}`, 'an ink has no name', nameInk)
    return {
      id: `s${sample}`,
      name: name ?? (kind === 'transparency' ? 'Transparency' : `Channel ${sample + 1}`),
      kind,
      ink: kind === 'spot' ? (at?.ink ?? null) : null,
      opacity: kind === 'spot' ? (at?.opacity ?? null) : null,
      plane,
    }
  })
  const range = photometric === 5 ? await dotRanges(dir, page) : null
  const curveOf = (sample: number, isInk: boolean) =>
    isInk
      ? inkCurve(bits, range?.(sample) ?? [0, 2 ** bits - 1])
      : lightCurve(photometric, bits, sample, mode === 'Indexed')
  const planes: PlaneSource[] = [
    ...process.map(sample => ({
      sample,
      curve: sample === null ? null : curveOf(sample, photometric === 5),
      multiplied: multiplied && mode !== 'Lab',
    })),
    ...channels.map(({ kind, plane }): PlaneSource => {
      const sample = rest[plane - process.length]!
      const curve = kind === 'spot' && photometric === 5 ? curveOf(sample, true) : plainCurve(bits)
      return { sample, curve, multiplied: multiplied && kind === 'spot' }
    }),
  ]
  return {
    mode,
    depth: mode === 'Bitmap' ? 1 : bits === 16 ? 16 : 8,
    planes,
    channels,
    alpha,
    palette: mode === 'Indexed' ? await readPalette(dir, bits) : null,
  }
}

/** Samples of the colours themselves; null where inks are counted otherwise. */
function baseOf(photometric: number): number | null {
  switch (photometric) {
    case 0:
    case 1:
    case 3:
      return 1
    case 5:
      return null
    default:
      return 3
  }
}

/** CMYK where its inks are there by their order or by their names; else inks of their own alone. */
function separated(
  inkSet: number,
  names: readonly (string | undefined)[],
  samples: number,
  findings: Finding[],
): { mode: ColorMode; process: readonly (number | null)[] } {
  const named = [0, 1, 2, 3].map(ink => {
    const at = names.findIndex(name => name !== undefined && processPlate(name) === ink)
    return at < 0 ? null : at
  })
  if (named.every(one => one === null))
    return inkSet === 1 && samples >= 4 && names[0] === undefined
      ? { mode: 'CMYK', process: [0, 1, 2, 3] }
      : { mode: 'Multichannel', process: [] }
  const lacking = ['cyan', 'magenta', 'yellow', 'black'].filter((_, i) => named[i] === null)
  if (lacking.length > 0)
    findings.push({
      severity: 'note',
      code: 'ink-missing',
      where: 'inks',
      message: `it has no plate for ${lacking.join(', ')}; none of that ink is printed`,
      fix: 'Nothing, if the job prints without it.',
    })
  return { mode: 'CMYK', process: named }
}

/** Names by sample. */
async function inkNames(
  dir: Directory,
  { samples }: TiffPage,
  findings: Finding[],
): Promise<readonly (string | undefined)[]> {
  const bytes = await dir.bytes(tag.inkNames, 65_536)
  const stated = await dir.number(tag.numberOfInks, samples)
  const text = bytes === null ? '' : textOf(bytes)
  const all = text
    .replace(/\0+$/, '')
    .split('\0')
    .map(one => one.trim())
  const names = all.map(one => one || undefined)
  if (bytes !== null && (names.length > samples || stated > samples))
    findings.push({
      severity: 'warning',
      code: 'ink-count',
      where: 'inks',
      message: `it names ${Math.max(names.length, stated)} inks, but a pixel has ${samples} samples; names go with samples in their order`,
      fix: saveAgain,
    })
  // Names of the others alone, behind four process inks that go without saying.
  const afterProcess =
    names.length === samples - 4 && names.every(name => name === undefined || processPlate(name) === null)
  return afterProcess && (await dir.number(tag.inkSet, 1)) === 1
    ? ['Cyan', 'Magenta', 'Yellow', 'Black', ...names]
    : names.slice(0, samples)
}

function textOf(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('latin1').decode(bytes)
  }
}

/** The samples of no ink and of the solid, by sample. */
async function dotRanges(
  dir: Directory,
  { samples, bits }: TiffPage,
): Promise<((sample: number) => readonly [number, number]) | null> {
  if (dir.count(tag.dotRange) > 2 * samples) return null
  const values = await dir.numbers(tag.dotRange)
  if (values === null || values.length < 2) return null
  const whole: readonly [number, number] = [0, 2 ** bits - 1]
  return sample => {
    const at = values.length >= 2 * samples ? 2 * sample : 0
    const [none, solid] = [values[at]!, values[at + 1]!]
    return none === solid ? whole : [none, solid]
  }
}

type Curve = Uint8Array | Uint16Array

/** A curve over all numbers of a sample, to planes of 8 or 16 bits. */
function curve(bits: number, of: (share: number, value: number) => number): Curve {
  const most = 2 ** bits - 1
  const top = bits === 16 ? 65_535 : 255
  const out = bits === 16 ? new Uint16Array(65_536) : new Uint8Array(2 ** bits)
  for (let v = 0; v <= most; v++) out[v] = Math.round(top * Math.min(1, Math.max(0, of(v / most, v))))
  return out
}

/** Planes hold 0 for the solid and the most for no ink. */
const inkCurve = (bits: number, [none, solid]: readonly [number, number]): Curve =>
  curve(bits, (_, value) => 1 - (value - none) / (solid - none))

const plainCurve = (bits: number): Curve | null => (bits >= 8 ? null : curve(bits, share => share))

/** Light and Lab. CIE Lab of TIFF has a and b with their sign; ICC Lab of 16 bits ends at 0xff00. */
function lightCurve(photometric: number, bits: number, sample: number, isIndex: boolean): Curve | null {
  if (isIndex) return bits === 8 ? null : curve(bits, (_, value) => value / 255)
  if (photometric === 0) return curve(bits, share => 1 - share)
  const wide = 65_535 / 65_280
  if (photometric === 9) return bits === 16 ? curve(bits, share => share * wide) : plainCurve(bits)
  if (photometric !== 8 || sample === 0) return plainCurve(bits)
  const half = 2 ** (bits - 1)
  const scale = bits === 16 ? 65_280 : 255
  return curve(bits, (_, value) => ((value + half) % (2 * half)) / scale)
}

async function readPalette(dir: Directory, bits: number): Promise<Uint8Array> {
  const entries = 2 ** bits
  const map = dir.count(tag.colorMap) === 3 * entries ? await dir.numbers(tag.colorMap) : null
  if (map === null)
    throw damaged(dir.place, dir.at(tag.colorMap), `expected a palette of ${entries} colours`, 'palette')
  // 16 bits each; some writers put 8 there.
  const shift = map.every(one => one < 256) ? 1 : 257
  const out = new Uint8Array(768)
  for (let c = 0; c < 3; c++)
    for (let i = 0; i < entries; i++) out[c * 256 + i] = Math.round(map[c * entries + i]! / shift)
  return out
}

/** Channels beyond the colours by the image resources, where the file has them. */
async function resourceChannels(
  dir: Directory,
  mode: ColorMode,
  count: number,
  transparency: boolean,
  findings: Finding[],
): Promise<readonly Pick<Channel, 'name' | 'kind' | 'ink' | 'opacity'>[] | null> {
  if (count === 0 || !dir.has(tag.resources)) return null
  const bytes = await dir.bytes(tag.resources, mostResources)
  const resources = readResources(new Cursor(bytes!, dir.at(tag.resources), dir.place), findings)
  if (![1006, 1045].some(id => resources.has(id))) return null
  return readChannels({ mode, planes: processCount(mode) + count }, resources, transparency, findings)
}
