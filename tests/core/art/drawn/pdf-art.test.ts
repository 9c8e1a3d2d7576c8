import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readArt } from '../../../../core/art/read.ts'
import { memorySource } from '../../../../core/base/source.ts'
import { assignRoles } from '../../../../core/roles/assign.ts'
import { pageData } from '../../../support/page-data.ts'

const name = 'separations-ocg-iso19593.pdf'
const bytes = new Uint8Array(readFileSync('tests/fixtures/art/built__separations-ocg-iso19593.pdf'))
const options = { ppi: 72, shipped: pageData }

// 67.1 × 67.1 mm with its bleed: white and holography in separations of their own, a dieline, four steps (made for tests, CC0).
describe('a PDF as art', () => {
  test('its layers, inks and steps play their parts', async () => {
    const { art } = await readArt(memorySource(name, bytes), options)
    expect(art).toMatchObject({
      format: 'PDF',
      colorMode: 'CMYK',
      width: 190,
      height: 190,
      resolutionPpi: 72,
    })
    expect(art.page).toMatchObject({ number: 1, count: 1, inexact: [] })
    const roles = assignRoles(art, { aliases: [], choices: [] })
    expect(roles.map(({ target, role }) => [target.kind, target.id, role])).toEqual([
      ['layer', 'layer:Holography', 'holography'],
      ['layer', 'layer:White', 'ignore'],
      ['layer', 'layer:Artwork', 'overprint'],
      ['layer', 'layer:Dieline', 'dieline'],
      ['channel', 'Holo', 'ignore'],
      ['channel', 'White', 'white'],
      ['channel', 'Dieline', 'ignore'],
    ])
    const dieline = art.layers.find(layer => layer.name === 'Dieline')!
    expect(dieline.outlines!.every(shape => shape.rule === null && shape.penMm! > 0)).toBe(true)
  })

  test('white is printed where the page has it, and a page that is not there is said', async () => {
    const file = await readArt(memorySource(name, bytes), options)
    const white = file.art.channels.find(channel => channel.id === 'White')!
    const { data } = await file.documentPlane(white.plane)
    const share = Float64Array.from(data).reduce((sum, value) => sum + (255 - value), 0) / 255 / data.length
    // Of 10 000 pixels the separation renderer of the system counts 28.4 % at 100 ppi.
    expect(share).toBeCloseTo(0.284, 2)
    await expect(readArt(memorySource(name, bytes), { ...options, page: 2 })).rejects.toThrow(/page/)
  })
})
