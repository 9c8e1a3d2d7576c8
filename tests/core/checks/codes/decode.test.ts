import { beforeAll, describe, expect, it } from 'vitest'
import type { CodeReader, GreyPicture } from '../../../../core/base/code-reader.ts'
import { mapTile } from '../../../../core/checks/codes/art-tile.ts'
import { decodes, judgeBars } from '../../../../core/checks/codes/judge.ts'
import { ReaderLight, readerLight, readerTables } from '../../../../core/checks/codes/light.ts'
import { ReaderSurface } from '../../../../core/checks/codes/surface.ts'
import { bakeTables } from '../../../../core/optics/bake.ts'
import type { Tables } from '../../../../core/optics/tables.ts'
import { bakingOf } from '../../../../core/reference/baking.ts'
import { cameraRays, frameCamera, panelPoint, wholeView } from '../../../../core/reference/camera.ts'
import { standIn } from '../../../../core/reference/pose.ts'
import { renderTile } from '../../../../core/reference/render.ts'
import type { Scene } from '../../../../core/reference/scene.ts'
import { type CodeCase, casePlates, chance, codeCase } from '../../../support/code-cases.ts'
import { paintMap } from '../../../support/paint-map.ts'
import { discLamp, oneLamp, sceneFor } from '../../../support/scene.ts'
import { openReader } from './fixture.ts'

const scene = sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 45, distanceMm: 500, diameterMm: 20 }))
const along = Math.PI / 2

/** A camera at the receiver's place: grey of perfect white, places of a pixel that are summed along each side. */
const [white, grid] = [240, 2] as const

/** The symbol with its margins, seen by the camera. */
function picture(surface: ReaderSurface, { tile, symbol, picturePerMm: perMm }: CodeCase): GreyPicture {
  const { width, pixelsPerMm, leftMm } = tile
  const { start, heightMm } = symbol.frame
  const columns = Math.floor((width / pixelsPerMm) * perMm)
  const rows = Math.floor(heightMm * perMm)
  const data = new Uint8Array(columns * rows)
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      let sum = 0
      for (let j = 0; j < grid; j++)
        for (let i = 0; i < grid; i++)
          sum += surface.at(
            leftMm + (column + (i + 0.5) / grid) / perMm,
            start[1] - (row + (j + 0.5) / grid) / perMm,
          )
      data[row * columns + column] = Math.min(255, Math.round((white * sum) / grid ** 2))
    }
  return { width: columns, height: rows, data }
}

describe('a real decoder on pictures at 45/0, 660 nm', () => {
  const cases = 200
  let reader: CodeReader
  let judgedTables: Tables
  let seenTables: Tables
  beforeAll(async () => {
    reader = await openReader()
    const { map } = codeCase(chance(1))
    judgedTables = readerTables(scene, map)
    // The picture has all of the light, what comes back from the metal too.
    seenTables = bakeTables(bakingOf(scene, readerLight, map))
  })

  const expected = ({ map, tile, symbol, rulingPerMm }: CodeCase) =>
    decodes(
      judgeBars(
        new ReaderSurface(map, tile, new ReaderLight(judgedTables, 'along', along), rulingPerMm),
        symbol,
      ),
    )
  const read = async (one: CodeCase) => {
    const { map, tile, kind, text, rulingPerMm } = one
    const surface = new ReaderSurface(map, tile, new ReaderLight(seenTables, 'along', along), rulingPerMm)
    const codes = await reader.read(picture(surface, one))
    return codes.some(code => code.kind === kind && code.text === text && !code.reversed)
  }

  // Least contrast, margin and part of the lines were fitted to cases of seeds 11 to 13; these are others.
  it(`agrees with what is expected in 95 of 100 of ${cases} cases made by chance`, async () => {
    const next = chance(952)
    const answers = { both: 0, neither: 0, onlyRead: 0, onlyExpected: 0 }
    for (let i = 0; i < cases; i++) {
      const one = codeCase(next)
      const [would, does] = [expected(one), await read(one)]
      answers[would ? (does ? 'both' : 'onlyExpected') : does ? 'onlyRead' : 'neither']++
    }
    // Neither answer is a rare one.
    expect(answers.both).toBeGreaterThan(cases / 4)
    expect(answers.neither).toBeGreaterThan(cases / 4)
    expect(answers.onlyRead + answers.onlyExpected).toBeLessThanOrEqual(0.05 * cases)
  }, 400_000)
})

it('the light of such a picture is that of the reference picture', () => {
  const [sideMm, size, farMm] = [20, 40, 20_000]
  const map = paintMap(
    { size, sideMm, gratings: 0, whites: casePlates, spots: [], varnish: false },
    (x, y) => ({
      metal: x < 0 ? 1 : 0,
      cmyk: [y < -0.5 ? 1 : 0, y > 0.5 ? 1 : 0, 0, Math.abs(y) < 0.2 ? 1 : 0],
      whites: casePlates.map((_, i) => (i === 4 && x > -0.6 ? 1 : 0)),
    }),
  )
  const tables = bakeTables(bakingOf(scene, readerLight, map))
  const lamp = { elevationDeg: 45, distanceMm: farMm, diameterMm: 0.08 * farMm }
  const lamps = [discLamp({ azimuthDeg: 90, ...lamp }), discLamp({ azimuthDeg: 270, ...lamp })] as const
  const lit = sceneFor({ lamps, roomLevel: 0 })
  const far: Scene = { ...lit, view: { ...lit.view, eyeDistanceMm: farMm } }
  const light = renderTile(
    far,
    [map],
    [tables],
    { width: size, height: size, grid: 1 },
    { top: 0, bottom: size },
  )
  const tile = mapTile(map, { leftMm: 0, bottomMm: 0, rightMm: sideMm, topMm: sideMm })
  const surface = new ReaderSurface(map, tile, new ReaderLight(tables, 'along', along), 7)
  const rays = cameraRays(frameCamera(map, farMm, 1, wholeView), standIn(far), size, size)
  let compared = 0
  for (let row = 0; row < size; row++)
    for (let column = 0; column < size; column++) {
      const i = 4 * (row * size + column)
      if (light[i + 3] !== 1) continue
      const [x, y] = panelPoint(rays, column + 0.5, row + 0.5)!
      // The eye is far, not at no end: 1 in 2000 of the light's distance over the panel.
      expect(Math.abs(light[i + 1]! - surface.at(x + sideMm / 2, y + sideMm / 2))).toBeLessThan(2e-3)
      compared++
    }
  expect(compared).toBeGreaterThan((size * size) / 2)
})
