import type { EffectSpec, OpenField } from '../effects/effect.ts'
import { prepareEffect } from '../effects/kinds.ts'
import type { Picture } from '../effects/picture.ts'
import { Raster } from '../effects/picture.ts'
import type { ViewImage } from '../effects/view-image.ts'
import { AreaPainter } from './areas.ts'
import type { Coverage } from './coverage.ts'
import { gridOf } from './grid.ts'
import type { MapPlane, MaterialMap } from './map.ts'
import type { OpenArea } from './pictures.ts'

/** Size of a swatch: a small piece of foil, drawn fine enough for its cells. */
export const swatchSize = { widthMm: 30, heightMm: 20, width: 120, height: 80 } as const

/** Numbers that a kind is shown with, where its own are for a whole carton or name pictures that a job has. */
const shownWith: Readonly<Record<string, Readonly<Record<string, unknown>>>> = {
  highlight: { curve: 'circle', repeatMm: 25 },
  lens: { focalMm: 12 },
  facets: { facetMm: 3.5 },
  mosaic: { cellMm: 0.75 },
  sparkle: { cellMm: 0.25 },
  brushed: { lineMm: 0.25 },
  relief: { heightMm: 1.2, smoothingMm: 0.6 },
  layered: { planes: [{ layerId: 'ring', depthMm: -5 }] },
  switch: { secondLayerId: 'ring' },
  animation: { layerIds: ['ring', 'dots'] },
  'object-views': { assetId: 'eyepiece' },
}

/**
 * A map of one effect on a piece of foil: the whole piece, a comet where it shows a drawing.
 * Throws BadInput for parameters that the effect does not take.
 * @param spec the effect; parameters that name layers or files are replaced by the swatch's own pictures
 */
export function swatchMap(spec: EffectSpec): MaterialMap {
  const { widthMm, heightMm, width, height } = swatchSize
  const parameters = { ...spec.parameters, ...shownWith[spec.kind] }
  const frame = {
    centerXMm: widthMm / 2,
    centerYMm: heightMm / 2,
    widthMm,
    heightMm,
    views: () => turningRing,
  }
  const field = prepareEffect({ kind: spec.kind, parameters }, frame)
  const open: OpenField =
    field.kind === 'pictures'
      ? field.open(field.wants.map(wanted => drawing(wanted.from === 'own' ? 'comet' : wanted.id)))
      : field
  const art = { width, height, colorMode: 'RGB' } as const
  const grid = gridOf({ ...blankArt, ...art }, { widthMm, heightMm, resolutionPpi: (25.4 * width) / widthMm })
  const area: OpenArea = {
    id: 1,
    name: spec.kind,
    target: { kind: 'layer', id: 'swatch' },
    source: { kind: 'layers', layers: [], amount: { from: 'alpha' } },
    mask: null,
    effect: spec.kind,
    spec,
    place: frame,
    field: open,
  }
  const painter = new AreaPainter({ art: { ...blankArt, ...art } }, grid, [area])
  const band = painter.band().open({ left: 0, top: 0, right: width, bottom: height })
  const whole = cover()
  if (open.kind === 'views') painter.layViews({ ...area, field: open }, whole, band)
  else painter.lay({ ...area, field: open }, whole, null, band)
  const ids = new Uint8Array(width * height)
  painter.finish(band, ids)
  const { channels, planes, viewSets } = painter.planes()
  const full = (data: Uint8Array): MapPlane => ({ layout: 'full', components: 1, data })
  return {
    width,
    height,
    pixelsPerMm: width / widthMm,
    widthMm,
    heightMm,
    planes: new Map([
      ['metal', full(new Uint8Array(width * height).fill(255))],
      ...['C', 'M', 'Y', 'K'].map(name => [name, full(new Uint8Array(width * height))] as const),
      ['area', full(ids)],
      ...planes,
    ]),
    whites: [],
    spots: [],
    print: null,
    varnish: null,
    gratings: channels,
    grooves: painter.grooves,
    ...(viewSets.length > 0 ? { viewSets } : {}),
    areas: [{ id: 1, name: spec.kind, layerId: 'swatch', effect: spec.kind }],
  }
}

const blankArt = {
  name: 'swatch',
  format: 'PSD',
  resolutionPpi: null,
  depth: 8,
  layers: [],
  channels: [],
  paths: [],
  profile: null,
  palette: null,
  hasComposite: false,
  findings: [],
} as const

/** The piece of foil, painted all over: a rainbow from left to right, paler upwards. */
function cover(): Coverage {
  const { width, height } = swatchSize
  const count = width * height
  const box = { left: 0, top: 0, right: width, bottom: height }
  const planes = [5, 3, 1].map(n =>
    Float32Array.from({ length: count }, (_, i) => {
      const k = (n + (5 * (i % width)) / width) % 6
      const pure = 1 - Math.max(0, Math.min(k, 4 - k, 1))
      const pale = (0.5 * Math.floor(i / width)) / height
      return pure + (1 - pure) * (0.5 - pale)
    }),
  )
  const alpha = new Float32Array(count).fill(1)
  return { box, data: alpha, surface: { box, planes, alpha } }
}

/** How much a drawing covers at x, y: −1.5..1.5 to the right, −1..1 upwards. */
function painted(name: string, x: number, y: number): number {
  const soft = (distance: number) => Math.max(0, Math.min(1, 0.5 - distance / 0.06))
  switch (name) {
    case 'ring':
      return soft(Math.abs(Math.hypot(x, y) - 0.62) - 0.13)
    case 'dots':
      return soft(Math.hypot(((x + 10.25) % 0.5) - 0.25, ((y + 10.25) % 0.5) - 0.25) - 0.13)
    default: {
      // A comet: a head, and a tail that narrows to the left.
      const head = Math.hypot(x - 0.7, y - 0.25) - 0.4
      const along = (x + 1.3) / 2
      const tail = Math.abs(y - 0.45 * along + 0.35 - 0.3 * along * along) - 0.34 * along
      return Math.max(soft(head), along > 0 && along < 1 ? soft(tail) : 0)
    }
  }
}

/** A drawing as effects see it: domed light where it covers. */
function drawing(name: string): Picture {
  const { widthMm, heightMm, width, height } = swatchSize
  const place = { leftMm: 0, bottomMm: 0, widthMm, heightMm }
  const words = (value: (x: number, y: number) => number) =>
    new Raster(
      place,
      width,
      height,
      Uint16Array.from({ length: width * height }, (_, i) =>
        Math.round(
          65535 *
            value((((i % width) + 0.5) / width) * 3 - 1.5, 1 - ((Math.floor(i / width) + 0.5) / height) * 2),
        ),
      ),
    )
  return { cover: words((x, y) => painted(name, x, y)), light: words((x, y) => painted(name, x, y)) }
}

/** A ring seen from several sides: it narrows to a line and widens again. */
const turningRing: readonly ViewImage[] = Array.from({ length: 7 }, (_, i) => {
  const side = 48
  const width = Math.cos(((i - 3) / 3) * 1.25)
  const data = Uint8Array.from({ length: side * side }, (_, at) => {
    const [x, y] = [((at % side) + 0.5) / 24 - 1, (Math.floor(at / side) + 0.5) / 24 - 1]
    return Math.abs(Math.hypot(x / width, y) - 0.72) < 0.2 ? 255 : 0
  })
  return { width: side, height: side, data }
})
