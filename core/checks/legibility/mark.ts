import type { ArtFile, Channel } from '../../art/layer.ts'
import { processCount } from '../../art/layer.ts'
import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { inside } from '../../reference/solid.ts'
import { channelAmount } from '../../roles/amount.ts'
import type { BoxMm } from '../finding.ts'
import type { MarkedArea } from '../marked.ts'
import type { GlyphSource, PixelBox } from './raster.ts'
import { type Samples, sampledGlyphs, samplesUnder } from './samples.ts'

/** A difference between type and ground that is less than this part of a plate's range is none. */
const leastApart = 0.15

/** What the art's own planes may say against the map's, which are coarser: they go before unless much worse. */
const ownBonus = 1.25

/**
 * Glyphs of a marked area: of all plates that lie there the one that falls most clearly into two tones, cut between
 * them; the tone that holds less of the area's border is the type. Null where no plate has two tones.
 */
export async function markGlyphs(
  file: ArtFile | null,
  map: MaterialMap,
  mark: MarkedArea,
  box: BoxMm,
): Promise<GlyphSource | null> {
  const own = file === null ? [] : await artPlanes(file, map, box)
  const candidates = [...own, ...mapPlanes(map, box)].flatMap(samples => {
    const cut = twoTones(samples.data, samples, map, mark)
    return cut === null ? [] : [{ samples, cut, clear: cut.clear * (own.includes(samples) ? ownBonus : 1) }]
  })
  const [first, ...others] = candidates
  if (first === undefined) return null
  const best = others.reduce((a, b) => (b.clear > a.clear ? b : a), first)
  return sampledGlyphs({ ...best.samples, data: best.cut.amount }, map)
}

type Planes = readonly Samples[]

async function artPlanes(file: ArtFile, map: MaterialMap, box: BoxMm): Promise<Planes> {
  const { art } = file
  const under = samplesUnder(box, map, art)
  if (!art.hasComposite || empty(under)) return []
  const process = Array.from({ length: processCount(art.colorMode) }, (_, plane) => ({
    plane,
    kind: 'spot' as Channel['kind'],
  }))
  const spots = art.channels.filter(channel => channel.kind === 'spot')
  const found: Samples[] = []
  for (const { plane, kind } of [...process, ...spots]) {
    const { data, box: has } = await file.documentPlane(plane, under)
    const width = has.right - has.left
    found.push(
      cut(under, art, (x, y) =>
        y < has.top || y >= has.bottom || x < has.left || x >= has.right
          ? 0
          : channelAmount(kind, data, (y - has.top) * width + x - has.left),
      ),
    )
  }
  return found
}

function mapPlanes(map: MaterialMap, box: BoxMm): Planes {
  const under = samplesUnder(box, map, map)
  if (empty(under)) return []
  const names = ['C', 'M', 'Y', 'K', 'metal', ...map.whites.map(one => one.coverage)]
  if (map.varnish !== null) names.push(map.varnish)
  return [...names, ...map.spots.map(one => one.coverage)].map(name => {
    const plane = new PlaneReader(map.planes.get(name), map.width)
    return cut(under, map, (x, y) => {
      const at = plane.at(x, y)
      return at < 0 ? 0 : plane.data[at]! / 255
    })
  })
}

const empty = ({ left, top, right, bottom }: PixelBox): boolean => right <= left || bottom <= top

function cut(
  { left, top, right, bottom }: PixelBox,
  whole: { readonly width: number; readonly height: number },
  read: (x: number, y: number) => number,
): Samples {
  const width = right - left
  const data = new Float32Array(width * (bottom - top))
  for (let y = top; y < bottom; y++)
    for (let x = left; x < right; x++) data[(y - top) * width + x - left] = read(x, y)
  return { left, top, width, height: bottom - top, data, acrossArt: whole.width, downArt: whole.height }
}

/**
 * Splits samples where both tones vary least within themselves. The amount runs from 0 at the ground's tone to 1 at
 * the type's; outside the mark it is 0. `clear` is the variance between the tones.
 * Source: Otsu, A Threshold Selection Method from Gray-Level Histograms, IEEE Trans. SMC 9 (1979), 62–66.
 */
function twoTones(
  data: Float32Array,
  { left, top, width, height, acrossArt, downArt }: Samples,
  map: MaterialMap,
  mark: MarkedArea,
): { readonly amount: Float32Array; readonly clear: number } | null {
  const within = (i: number): boolean => {
    if (mark.shape.kind === 'box') return true
    const x = ((left + (i % width) + 0.5) / acrossArt) * map.widthMm
    const y = (1 - (top + Math.floor(i / width) + 0.5) / downArt) * map.heightMm
    return mark.shape.rings.reduce((held, ring) => held !== inside(ring, x, y), false)
  }
  const counts = new Float64Array(256)
  let n = 0
  for (const [i, value] of data.entries())
    if (within(i)) {
      counts[Math.round(255 * value)]!++
      n++
    }
  if (n === 0) return null
  const split = otsu(counts, n)
  if (split === null || split.high - split.low < leastApart) return null
  const { low, high, clear } = split
  const middle = (low + high) / 2
  let border = 0
  let highs = 0
  for (let i = 0; i < data.length; i++) {
    const [x, y] = [i % width, Math.floor(i / width)]
    if (x > 0 && y > 0 && x < width - 1 && y < height - 1) continue
    border++
    if (data[i]! > middle) highs++
  }
  const typeIsLow = highs > border / 2
  const amount = data.map((value, i) => {
    if (!within(i)) return 0
    const part = Math.min(1, Math.max(0, (value - low) / (high - low)))
    return typeIsLow ? 1 - part : part
  })
  return { amount, clear }
}

function otsu(counts: Float64Array, n: number): { low: number; high: number; clear: number } | null {
  const whole = counts.reduce((sum, count, tone) => sum + count * tone, 0)
  let best: { low: number; high: number; clear: number } | null = null
  let below = 0
  let sum = 0
  for (let tone = 0; tone < 255; tone++) {
    below += counts[tone]!
    sum += counts[tone]! * tone
    if (below === 0 || below === n) continue
    const low = sum / below / 255
    const high = (whole - sum) / (n - below) / 255
    const clear = ((below * (n - below)) / n ** 2) * (high - low) ** 2
    if (best === null || clear > best.clear) best = { low, high, clear }
  }
  return best
}
