import { describe, expect, test } from 'vitest'
import { drawnArt } from '../../../core/art/drawn/art.ts'
import type { PageLayer } from '../../../core/art/ink/page.ts'
import type { StatedStep } from '../../../core/art/step.ts'
import { assignRoles, type RoleRules } from '../../../core/roles/assign.ts'
import { knockingLayers } from '../../../core/roles/knocking.ts'
import { filled, inkPage, pageLayer, processInks, spotOf } from '../../support/drawn-page.ts'

const none: RoleRules = { aliases: [], choices: [] }

/** A page of layers, each drawn in inks by their names; `Cyan` for art. */
function pageOf(layers: readonly (readonly [PageLayer, ...string[]])[]) {
  const names = [...new Set(layers.flatMap(([, ...inks]) => inks))].filter(name => name !== 'Cyan')
  const inks = [...processInks, ...names.map(name => spotOf(name))]
  const number = (name: string) => inks.findIndex(ink => ink.name === name)
  const page = inkPage({
    inks,
    layers: layers.map(([layer]) => layer),
    marks: layers.flatMap(([, ...own], layer) =>
      own.map(name => filled([1, 1, 9, 9], { [number(name)]: 1 }, { layer })),
    ),
  })
  const how = { name: 'a.pdf', format: 'PDF', ppi: 25.4, mode: 'CMYK', number: 1, count: 1 } as const
  return drawnArt(page, { ...how, readAs: 'inks' }).art
}

const roles = (art: ReturnType<typeof pageOf>, rules = none) =>
  assignRoles(art, rules).map(({ target, role, reason }) => [target.kind, target.id, role, reason])

const step = (group: string, type: string | null = null): { readonly step: StatedStep } => ({
  step: { group, type },
})

describe('layers and channels of a page share the work', () => {
  test('plates are channels, areas are layers', () => {
    const art = pageOf([
      [pageLayer('Art'), 'Cyan'],
      [pageLayer('White'), 'Opaque'],
      [pageLayer('Hologram'), 'Foil 1'],
      [pageLayer('Dieline'), 'Cut'],
      [pageLayer('Title'), 'Star gold'],
    ])
    expect(roles(art)).toEqual([
      ['layer', 'Art', 'overprint', 'ordinary artwork: no trade word in its name or its groups'],
      ['layer', 'White', 'ignore', 'drawn in "Opaque" alone: the channel is the plate'],
      ['layer', 'Hologram', 'holography', 'name is the ISO 19593-1 step Positions/Hologram'],
      ['layer', 'Dieline', 'dieline', 'name has "dieline"'],
      ['layer', 'Title', 'ignore', 'drawn in "Star gold" alone: the channel is the plate'],
      ['channel', 'Opaque', 'white', 'spot channel, all of it in layer "White": name has "white"'],
      ['channel', 'Foil 1', 'ignore', 'all of it lies in layer "Hologram", which is holography'],
      ['channel', 'Cut', 'ignore', 'all of it lies in layer "Dieline", which is dieline'],
      ['channel', 'Star gold', 'spotInk', 'spot channel: prints an ink of its own, "Star gold"'],
    ])
    expect(assignRoles(art, none).some(one => one.askAmount && one.target.id !== 'Art')).toBe(false)
  })

  test('a step that the file states comes before every name; one that is not in order says nothing', () => {
    const art = pageOf([
      [pageLayer('Artwork', step('White')), 'Ink 7'],
      [pageLayer('White', step('Positions', 'Hologram')), 'Ink 8'],
      [pageLayer('Varnish', step('Structural')), 'Ink 9'],
    ])
    expect(roles(art).map(([, id, role, reason]) => [id, role, reason])).toEqual([
      ['Artwork', 'ignore', 'drawn in "Ink 7" alone: the channel is the plate'],
      ['White', 'holography', 'the file states the ISO 19593-1 step Positions Hologram'],
      ['Varnish', 'ignore', 'drawn in "Ink 9" alone: the channel is the plate'],
      ['Ink 7', 'white', 'the file states the ISO 19593-1 step White'],
      ['Ink 8', 'ignore', 'all of it lies in layer "White", which is holography'],
      [
        'Ink 9',
        'varnish',
        'spot channel, all of it in layer "Varnish": name is the ISO 19593-1 step Varnish',
      ],
    ])
  })

  test('beside the map of holography its positions are outlines, and no second holography', () => {
    const art = pageOf([
      [pageLayer('Places', step('Positions', 'Hologram')), 'Ink 7'],
      [pageLayer('Own', step('RKLT_HoloMap')), 'Ink 8'],
    ])
    expect(roles(art).map(([, id, role]) => [id, role])).toEqual([
      ['Places', 'legend'],
      ['Own', 'holography'],
      ['Ink 7', 'ignore'],
      ['Ink 8', 'ignore'],
    ])
  })

  test('an ink that lies in an area and elsewhere stays a plate; what somebody chose is played by the layer', () => {
    const art = pageOf([
      [pageLayer('Hologram'), 'Silver'],
      [pageLayer('Rings'), 'Silver'],
      [pageLayer('White'), 'Opaque'],
    ])
    expect(roles(art).at(3)).toEqual(['channel', 'Silver', 'spotInk', expect.any(String)])
    const chosen = { kind: 'layer', id: 'White' } as const
    const rules = { ...none, choices: [{ target: chosen, role: 'white' as const, amount: null }] }
    expect(roles(art, rules).at(2)).toEqual(['layer', 'White', 'white', 'set by you'])
    expect(roles(art, rules).at(4)).toEqual([
      'channel',
      'Opaque',
      'ignore',
      'all of it lies in layer "White", which is white',
    ])
  })

  test('what knocks out of the art: shown layers of plates that print, no areas', () => {
    const art = pageOf([
      [pageLayer('Art'), 'Cyan'],
      [pageLayer('White'), 'Opaque'],
      [pageLayer('Hologram'), 'Foil 1'],
      [pageLayer('Title', { visible: false }), 'Star gold'],
    ])
    const assigned = assignRoles(art, none)
    expect(knockingLayers(art, assigned)).toEqual(['White'])
    const off = assignRoles(art, {
      ...none,
      choices: [{ target: { kind: 'channel', id: 'Opaque' }, role: 'ignore', amount: null }],
    })
    expect(knockingLayers(art, off)).toEqual([])
  })
})
