import type { EffectFrame, EffectSpec } from '../../core/effects/effect.ts'
import { prepareEffect } from '../../core/effects/kinds.ts'
import { type Picture, Raster } from '../../core/effects/picture.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { ViewTiles } from '../../core/material/view-tiles.ts'
import { viewBytes } from '../../core/material/views.ts'
import type { Grating } from '../../core/optics/matter.ts'

/** A painted picture over a square panel: 1 where the function says so; x, y −1..1 from the middle. */
export function picture(sideMm: number, painted: (x: number, y: number) => boolean): Picture {
  const n = 256
  const place = { leftMm: 0, bottomMm: 0, widthMm: sideMm, heightMm: sideMm }
  const data = Uint16Array.from({ length: n * n }, (_, i) =>
    painted((((i % n) + 0.5) / n) * 2 - 1, 1 - ((Math.floor(i / n) + 0.5) / n) * 2) ? 65535 : 0,
  )
  const raster = new Raster(place, n, n, data)
  return { cover: raster, light: raster }
}

/** An effect over a square panel, opened on its pictures. */
function opened(
  sideMm: number,
  spec: EffectSpec,
  pictures: readonly Picture[],
  views?: EffectFrame['views'],
) {
  const frame: EffectFrame = {
    centerXMm: sideMm / 2,
    centerYMm: sideMm / 2,
    widthMm: sideMm,
    heightMm: sideMm,
    ...(views ? { views } : {}),
  }
  const field = prepareEffect(spec, frame)
  return field.kind === 'pictures' ? field.open(pictures) : field
}

/** The grating of an effect at each place of a square panel, −1..1 from its middle. */
export function gratingAt(
  sideMm: number,
  spec: EffectSpec,
  pictures: readonly Picture[],
): (x: number, y: number) => Grating {
  const open = opened(sideMm, spec, pictures)
  if (open.kind !== 'grating') throw new TypeError(`"${spec.kind}" has no grating`)
  const tone = { lightness: 0, hue: 0, chroma: 0 }
  const sample = { pitch: 1, azimuth: 0, grooveDepth: 0, share: 0, spread: 0, jitter: 0 }
  return (x, y) => {
    const { pitch, azimuth, grooveDepth, share } = open.at(
      ((x + 1) / 2) * sideMm,
      ((y + 1) / 2) * sideMm,
      tone,
      sample,
    )
    return { pitch, azimuth, grooveDepth, share, groove: open.groove, spreadAlong: 0, spreadAcross: 0 }
  }
}

/** A map with the views of an effect added all over it, in its first groove. */
export function withViews(
  map: MaterialMap,
  kind: string,
  parameters: Readonly<Record<string, unknown>>,
  pictures: readonly Picture[],
  views?: EffectFrame['views'],
): MaterialMap {
  const open = opened(map.widthMm, { kind, parameters }, pictures, views)
  if (open.kind !== 'views') throw new TypeError(`"${kind}" has no views`)
  const { design, grooveDepth, share } = open
  const set = { name: kind, ...design, grooveDepth, groove: 0, share }
  const tiles = new ViewTiles(map.width, map.height, viewBytes([set]))
  const shines = new Float64Array(design.channels.length)
  for (let y = 0; y < map.height; y++)
    for (let x = 0; x < map.width; x++)
      tiles.set(
        x,
        y,
        1,
        open.at(((x + 0.5) / map.width) * map.widthMm, (1 - (y + 0.5) / map.height) * map.heightMm, shines),
        shines.length,
      )
  return { ...map, viewSets: [set], planes: new Map([...map.planes, ...tiles.finish()]) }
}
