import { asDrawn, type Motions } from '../../core/checks/register/groups.ts'
import type { Picture } from '../../core/effects/picture.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { blazed, rectangular, sampled, sinusoid } from '../../core/optics/groove.ts'
import type { Grating } from '../../core/optics/matter.ts'
import type { IlluminantName } from '../../core/optics/scene.ts'
import { asPrinted } from '../../core/reference/overlay.ts'
import { type LampForm, type LampPose, type Scene, withHandLamp } from '../../core/reference/scene.ts'
import { trayFolded, windowsFolded } from '../support/carton.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../support/paint-map.ts'
import { inventedCondition } from '../support/print-condition.ts'
import { discLamp, oneLamp, sceneFor } from '../support/scene.ts'
import { gratingAt, picture, withViews } from '../support/view-map.ts'

/** A fixed picture for shader and reference alike. */
export interface Case {
  readonly name: string
  readonly map: MaterialMap
  readonly scene: Scene
  /** How groups of plates slipped: the shader is told, the reference gets the map moved. */
  readonly motions?: Motions
  /** Where it is not that of all. */
  readonly worstMean?: number
  readonly worstPsnr?: number
}

const groove: Grating = {
  pitch: 1000,
  azimuth: 0,
  grooveDepth: 80,
  groove: sinusoid,
  share: 1,
  spreadAlong: 0,
  spreadAcross: 0,
}

const plan: PaintPlan = {
  size: 256,
  sideMm: 80,
  gratings: 1,
  whites: [],
  spots: [],
  varnish: false,
}

const texelMm = plan.sideMm / plan.size

const scene = sceneFor(oneLamp({ azimuthDeg: 20, elevationDeg: 62, distanceMm: 400, diameterMm: 20 }, 0.3))

const lit = (change: Partial<Scene['light']>): Scene => ({ ...scene, light: { ...scene.light, ...change } })
const seen = (change: Partial<Scene['view']>): Scene => ({ ...scene, view: { ...scene.view, ...change } })
/**
 * Held a little askew, so that no pixel's middle falls on the border of two texels: there the two precisions choose
 * differently, and a whole texel's difference would be counted instead of the light's.
 */
const askew = (s: Scene): Scene => ({
  ...s,
  view: { ...s.view, pose: { tiltForwardDeg: 1.1, tiltSideDeg: -0.7, turnDeg: 1.3 } },
})
const under = (illuminant: IlluminantName, roomLevel = scene.light.roomLevel) =>
  lit(oneLamp(scene.light.lamps[0].pose, roomLevel, illuminant))
const lamp = (change: Partial<LampPose>) =>
  withHandLamp(scene.light, { ...scene.light.lamps[0].pose, ...change })

/** One lamp of that form, D50, from the upper right. */
const from = (form: LampForm, elevationDeg: number, distanceMm: number): Scene =>
  lit({
    lamps: [{ ...discLamp({ azimuthDeg: 40, elevationDeg, distanceMm, diameterMm: 1 }, 'D50'), form }],
  })

const rings = (x: number, y: number): Grating => ({ ...groove, pitch: 1200, azimuth: Math.atan2(y, x) })

/** Steep on one side, soft on the other. */
const lopsided = sampled('lopsided', [0, 1, 3, 6, 10, 9, 3, 1])

/** Sixty-four facets, each with a direction, pitch, depth and shape of its own; a fixed scramble, no chance. */
const facets = (x: number, y: number): Grating => {
  const n = Math.floor((x + 1) * 4) * 8 + Math.floor((y + 1) * 4)
  const part = (step: number) => ((n * step) % 64) / 64
  return {
    ...groove,
    pitch: 750 + 1000 * part(37),
    azimuth: Math.PI * part(23),
    grooveDepth: 40 + 100 * part(11),
    groove: [sinusoid, rectangular(), blazed][n % 3]!,
    spreadAlong: n % 5 === 0 ? 5e-5 : 0,
    spreadAcross: n % 7 === 0 ? 3e-5 : 0,
  }
}

/** Steps of each ink from left to right, one ink a stripe, the two lowest stripes overprints; foil above, board below. */
const printed = (x: number, y: number): PaintStack => {
  const stripe = Math.floor((1 - y) * 4)
  const step = Math.floor((x + 1) * 4) / 7
  const ink = (...on: number[]) =>
    [0, 1, 2, 3].map(i => (on.includes(i) ? step : 0)) as [number, number, number, number]
  const cmyk = [ink(0), ink(1), ink(2), ink(3), ink(0, 1), ink(1, 2), ink(0, 2), ink(0, 1, 2, 3)][stripe]!
  return { cmyk, gratings: x > 0 ? [rings(x, y)] : [], metal: stripe === 7 ? 0 : 1 }
}

/** A plain grating field as a map. */
const effect = (kind: string, parameters: Record<string, unknown>, ...pictures: Picture[]) => {
  const at = gratingAt(plan.sideMm, { kind, parameters }, pictures)
  return paintMap(plan, (x, y) => ({ gratings: [at(x, y)] }))
}

/** A grey ball before rings, one picture of several from left to right. */
const lensSeenFrom = (step: number) => {
  const n = 128
  const data = Uint8Array.from({ length: n * n }, (_, i) => {
    const x = (((i % n) + 0.5) / n) * 2 - 1
    const y = 1 - ((Math.floor(i / n) + 0.5) / n) * 2
    const r = Math.hypot(x + 0.05 * step, y)
    if (r < 0.5) return Math.round(255 * Math.sqrt(1 - 4 * r * r))
    return Math.abs(Math.hypot(x - 0.03 * step, y) - 0.8) < 0.08 ? 120 : 0
  })
  return { width: n, height: n, data }
}

export function parityCases(): readonly Case[] {
  const plain = paintMap(plan, () => ({ gratings: [{ ...groove, pitch: 1000 }] }))
  const radial = paintMap(plan, (x, y) => (Math.hypot(x, y) < 0.9 ? { gratings: [rings(x, y)] } : {}))
  const coded = paintMap(plan, (x, y) => ({ gratings: [facets(x, y)] }))
  const white = paintMap(
    {
      ...plan,
      whites: [
        { opacity: 0.5, hits: 1 },
        { opacity: 0.8, hits: 2 },
      ],
    },
    (x, y) => ({ gratings: [rings(x, y)], whites: y > 0 ? [(x + 1) / 2, 0] : [0.2, (x + 1) / 2] }),
  )
  const opacities = [0.25, 0.5, 0.75, 0.95]
  const wedge = paintMap({ ...plan, whites: opacities.map(opacity => ({ opacity, hits: 1 })) }, (x, y) => ({
    gratings: [rings(x, y)],
    whites: opacities.map((_, i) => (Math.floor((y + 1) * 2) === i ? Math.ceil((x + 1) * 4) / 8 : 0)),
  }))
  const mottled = paintMap(
    {
      ...plan,
      // So small that the noise is smooth from texel to texel, whose borders fall to either side.
      sideMm: 8,
      whites: [
        { opacity: 0.4, hits: 1, mottle: 0.3 },
        { opacity: 0.4, hits: 1, mottle: 0.2, screen: 'even' },
      ],
    },
    (x, y) => ({ gratings: [rings(x, y)], whites: y > 0 ? [(x + 1) / 2, 0] : [0, (x + 1) / 2] }),
  )
  const gilded = paintMap({ ...plan, whites: [{ opacity: 0.25, hits: 1 }] }, (x, y) => ({
    ...printed(x, y),
    whites: [Math.abs(y) < 0.3 ? (x + 1) / 2 : 0],
  }))
  const varnished = paintMap({ ...plan, varnish: true }, (x, y) => ({
    gratings: [rings(x, y)],
    varnish: Math.min(1, Math.max(0, (x + 0.8) / 1.2)),
    cmyk: [0, y < -0.3 ? 0.5 : 0, 0, 0],
  }))
  const inks = paintMap(plan, printed)
  const two = paintMap({ ...plan, gratings: 2 }, (x, y) => ({
    gratings: [
      { ...groove, share: 0.5 },
      { ...groove, pitch: 1400, azimuth: Math.PI / 2 + 0.3 * x, share: (y + 1) / 4 },
    ],
  }))
  const brand = paintMap(
    {
      ...plan,
      spots: [
        [48, 68, 48],
        [30, 10, -60],
      ],
      varnish: true,
    },
    (x, y) => ({
      gratings: [rings(x, y)],
      spots: [(x + 1) / 2, y > 0 ? 1 : 0],
      varnish: Math.hypot(x, y) < 0.5 ? 1 : 0,
    }),
  )
  const pressed = paintMap(
    { ...plan, spots: [[48, 68, 48]], whites: [{ opacity: 0.8, hits: 1 }] },
    (x, y) => ({
      ...printed(x, y),
      spots: [y > 0.5 ? (x + 1) / 2 : 0],
      whites: [Math.max(0, x)],
    }),
  )
  const corner = paintMap(plan, (x, y) =>
    x > 0.7 && y > 0.7 ? { gratings: [{ ...groove, share: 0.4 }] } : {},
  )
  const comet = picture(80, (x, y) => Math.hypot(x, y) < 0.6)
  const star = picture(80, (x, y) => Math.abs(x * y) < 0.05)
  const tail = picture(80, (x, y) => Math.abs(y - x) < 0.3)
  const fromAbove = (tiltSideDeg: number) => ({
    ...lit(lamp({ azimuthDeg: 90, elevationDeg: 60 })),
    view: seen({ pose: { tiltForwardDeg: 0, tiltSideDeg, turnDeg: 0 } }).view,
  })
  const views = [
    {
      name: 'layered depth',
      map: withViews(corner, 'layered', { depthMm: 5, planes: [{ layerId: 'b', depthMm: -8 }] }, [
        comet,
        star,
      ]),
      scene: fromAbove(4),
    },
    {
      name: 'a switch',
      map: withViews(corner, 'switch', { secondLayerId: 'b' }, [comet, star]),
      scene: fromAbove(-3),
    },
    {
      name: 'a moving picture of twelve',
      map: withViews(
        corner,
        'animation',
        { layerIds: Array.from({ length: 11 }, (_, i) => String(i)), fanDeg: 25 },
        Array.from({ length: 12 }, (_, i) => [comet, star, tail][i % 3]!),
      ),
      scene: fromAbove(7),
    },
    {
      name: 'an object of nine views',
      map: withViews(corner, 'object-views', { assetId: 'lens', lampElevationDeg: 55 }, [], () =>
        Array.from({ length: 9 }, (_, i) => lensSeenFrom(i - 4)),
      ),
      scene: fromAbove(-5),
    },
    {
      name: 'layered depth under a window',
      map: withViews(corner, 'layered', { depthMm: 5, planes: [{ layerId: 'b', depthMm: -8 }] }, [
        comet,
        star,
      ]),
      scene: {
        ...from({ kind: 'rectangle', widthMm: 1000, heightMm: 1200, rollDeg: 10 }, 50, 1500),
        view: fromAbove(5).view,
      },
    },
    // The reference reads the room between pitches a quarter of a per cent apart, and a dome has all of them.
    {
      name: 'a dome',
      map: effect('lens', { shape: 'blazed', grooveDepthNm: 140 }),
      scene: fromAbove(2),
      worstMean: 0.05,
    },
    {
      name: 'relief',
      map: effect('relief', { heightMm: 6, smoothingMm: 3 }, comet),
      scene: fromAbove(2),
    },
  ]
  return [
    { name: 'plain grating', map: plain, scene },
    ...views,
    { name: 'plain grating, lamp of the sun’s size', map: plain, scene: lit(lamp({ diameterMm: 3.7 })) },
    { name: 'plain grating, lamp of 120 mm', map: plain, scene: lit(lamp({ diameterMm: 120 })) },
    // So dark that the brightest order lies below the highlights: its light is compared, not its compression.
    {
      name: 'plain grating, lamp of 120 mm, six stops under, no room',
      map: plain,
      scene: {
        ...lit({ ...lamp({ diameterMm: 120 }), roomLevel: 0 }),
        view: seen({ exposureStops: -6 }).view,
      },
    },
    { name: 'radial rings', map: radial, scene },
    {
      name: 'radial rings, illuminant A, Display-P3',
      map: radial,
      scene: { ...under('A'), view: seen({ gamut: 'display-p3' }).view },
    },
    {
      name: 'radial rings, illuminant A, not adapted',
      map: radial,
      scene: { ...under('A'), view: seen({ adapt: false }).view },
    },
    {
      name: 'radial rings, tilted and turned',
      map: radial,
      scene: seen({ pose: { tiltForwardDeg: 18, tiltSideDeg: -25, turnDeg: 30 } }),
    },
    { name: 'radial rings, three stops under', map: radial, scene: seen({ exposureStops: -3 }) },
    {
      name: 'facets of every shape',
      map: coded,
      scene: lit(lamp({ azimuthDeg: -70, elevationDeg: 55, diameterMm: 200 })),
    },
    {
      name: 'measured and lopsided grooves on rough metal, through the film',
      map: paintMap(plan, (x, y) => ({
        gratings: [{ ...facets(x, y), groove: x < 0 ? lopsided : rectangular(0.3) }],
        cmyk: [0, y < -0.6 ? 0.7 : 0, 0, 0],
      })),
      scene: {
        ...scene,
        board: { ...scene.board, microRoughnessNm: 15, hazeSpread: 0.12, readFrom: 'film' },
      },
    },
    { name: 'white gradients over rings', map: white, scene },
    { name: 'a white wedge, coverage by opacity', map: wedge, scene: askew(scene) },
    {
      name: 'mottled whites as dots and as even films',
      map: mottled,
      scene: { ...scene, whiteInk: { forwardness: 0.4 } },
    },
    {
      name: 'gold under inks, rings and a thin white',
      map: gilded,
      scene: { ...scene, board: { ...scene.board, tint: { name: 'Warm gold', lab: [79, 8, 46] } } },
    },
    {
      name: 'matte varnish over rings, in part and whole',
      map: varnished,
      scene: { ...scene, board: { ...scene.board, varnishRoughness: 0.2, varnishScatterMrad: 40 } },
    },
    { name: 'inks over foil, rings and board', map: inks, scene },
    {
      name: 'a side panel folded away',
      map: inks,
      scene: seen({ pose: { tiltForwardDeg: 0, tiltSideDeg: 72, turnDeg: 0 } }),
    },
    {
      name: 'a carton half folded, seen from the side',
      map: inks,
      scene: {
        ...seen({ pose: { tiltForwardDeg: -24.3, tiltSideDeg: 31.7, turnDeg: 4.1 } }),
        solid: trayFolded(0.55, { 'front to floor': 20 }),
      },
    },
    {
      name: 'a carton seen into, two lamps',
      map: brand,
      scene: {
        ...seen({ pose: { tiltForwardDeg: 141.3, tiltSideDeg: 22.7, turnDeg: 3.1 } }),
        light: {
          ...scene.light,
          lamps: [
            {
              ...discLamp({ azimuthDeg: 20, elevationDeg: 62, distanceMm: 400, diameterMm: 20 }, 'A'),
              lux: 600,
            },
            { ...discLamp({ azimuthDeg: 200, elevationDeg: 55, distanceMm: 500, diameterMm: 8 }), lux: 300 },
          ],
        },
        solid: trayFolded(0.8),
      },
      // Some fifty pixels on the borders of bright board and dark surround fall to either side.
      worstPsnr: 43,
    },
    {
      name: 'a carton with windows, seen through them into its back',
      map: inks,
      scene: {
        ...seen({ pose: { tiltForwardDeg: -21.3, tiltSideDeg: 27.7, turnDeg: 5.1 } }),
        solid: windowsFolded(0.8),
      },
    },
    // By whole pixels of the map, because the shader takes the nearest and the moved map weighs between four.
    {
      name: 'plates out of register under a die that slipped',
      map: pressed,
      scene: askew(scene),
      motions: {
        white: { ...asDrawn, dxMm: 5 * texelMm, dyMm: -3 * texelMm },
        colour: { ...asDrawn, dxMm: -2 * texelMm, dyMm: 7 * texelMm },
        die: { ...asDrawn, dxMm: 4 * texelMm },
      },
    },
    {
      name: 'two fields of foil that were turned, stretched and moved',
      map: paintMap(plan, x => ({ gratings: [{ ...groove, pitch: x < -0.2 ? 1000 : 1250 }] })),
      scene: askew(scene),
      motions: { holography: { dxMm: 2.3, dyMm: 1.1, turn: 0.05, stretchX: 1.02, stretchY: 0.98 } },
      // The moved map has the nearest pixel of the nearest pixel: edges of the fields differ by one.
      worstMean: 0.05,
      worstPsnr: 37,
    },
    {
      name: 'a film laid down out of register, two lamps',
      map: pressed,
      scene: {
        ...scene,
        light: {
          ...scene.light,
          lamps: [
            {
              ...discLamp({ azimuthDeg: 20, elevationDeg: 62, distanceMm: 400, diameterMm: 20 }, 'A'),
              lux: 600,
            },
            { ...discLamp({ azimuthDeg: 95, elevationDeg: 84, distanceMm: 500, diameterMm: 60 }), lux: 300 },
          ],
        },
        view: {
          ...askew(scene).view,
          overlay: { ...asPrinted, laid: 'film', film: { ...asPrinted.film, registerMm: [0.4, -0.4] } },
        },
      },
    },
    {
      name: 'a proof lifted a little, without its white, no room',
      map: gilded,
      scene: {
        ...lit({ roomLevel: 0 }),
        view: seen({
          pose: { tiltForwardDeg: 7.3, tiltSideDeg: 11.9, turnDeg: 3.1 },
          overlay: {
            ...asPrinted,
            lift: 0.08,
            shown: { ...asPrinted.shown, white: false },
            laid: 'film',
          },
        }).view,
      },
    },
    {
      name: 'leaves lifted half way, tilted',
      map: gilded,
      scene: seen({
        pose: { tiltForwardDeg: 17.3, tiltSideDeg: -11.9, turnDeg: 3.1 },
        overlay: { ...asPrinted, lift: 0.5 },
      }),
    },
    { name: 'inks over foil, D50, no room', map: inks, scene: askew(under('D50', 0)) },
    { name: 'two gratings', map: two, scene },
    { name: 'brand inks and varnish over rings', map: brand, scene },
    {
      name: 'brand and process inks of a press, absolute, on a white wedge, tones grown on foil',
      map: { ...pressed, print: inventedCondition() },
      scene: { ...under('A'), print: { ...scene.print, toneGain: [0.1, 0.2, 0, 0.35] } },
    },
    {
      name: 'foil in the mirror of the lamp',
      map: paintMap(plan, printed),
      scene: lit(lamp({ azimuthDeg: 90, elevationDeg: 86 })),
    },
    {
      name: 'two lamps of different spectra',
      map: inks,
      scene: askew(
        lit({
          lamps: [
            {
              ...discLamp({ azimuthDeg: 20, elevationDeg: 62, distanceMm: 400, diameterMm: 20 }, 'A'),
              lux: 600,
            },
            {
              ...discLamp({ azimuthDeg: 200, elevationDeg: 55, distanceMm: 500, diameterMm: 8 }, 'LED-B5'),
              lux: 300,
            },
          ],
        }),
      ),
    },
    {
      name: 'a window',
      map: white,
      scene: from({ kind: 'rectangle', widthMm: 1000, heightMm: 1200, rollDeg: 10 }, 50, 1500),
    },
    {
      name: 'a strip and a small lamp, tilted',
      map: brand,
      scene: {
        ...lit({
          lamps: [
            { ...discLamp({ azimuthDeg: 200, elevationDeg: 55, distanceMm: 500, diameterMm: 8 }), lux: 200 },
            from({ kind: 'rectangle', widthMm: 1200, heightMm: 30, rollDeg: 0 }, 65, 900).light.lamps[0],
          ],
        }),
        view: seen({ pose: { tiltForwardDeg: 8, tiltSideDeg: -12, turnDeg: 0 } }).view,
      },
    },
    {
      name: 'the room alone, bright, in facets and inks',
      map: coded,
      scene: lit({ ...oneLamp({ azimuthDeg: 0, elevationDeg: 5, distanceMm: 900, diameterMm: 2 }, 1.5) }),
    },
  ]
}
