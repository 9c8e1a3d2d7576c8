import { describe, expect, it } from 'vitest'
import type { Layer } from '../../../core/art/layer.ts'
import { assignRoles, processInk, type RoleRules } from '../../../core/roles/assign.ts'
import type { RoleName } from '../../../core/roles/role.ts'
import { stepOf } from '../../../core/roles/steps.ts'
import { type PaintedChannel, type PaintedLayer, paintedFile } from '../painted.ts'

const nothing: RoleRules = { aliases: [], choices: [] }

function assign(layers: readonly PaintedLayer[], channels: readonly PaintedChannel[] = [], rules = nothing) {
  const { art } = paintedFile({ width: 4, height: 4, layers, channels })
  return new Map(assignRoles(art, rules).map(one => [one.target.id, one]))
}

const inGroup = (group: string, ...names: string[]): PaintedLayer[] => [
  ...names.map((name): PaintedLayer => ({ name, parent: group })),
  { name: group, kind: 'group' },
]

describe('roles by trade words', () => {
  // How designers name layers in ten languages; trade usage from memory.
  const names: readonly (readonly [string, RoleName])[] = [
    ['Holography – star chart', 'holography'],
    ['White plate 1', 'white'],
    ['CMYK', 'overprint'],
    ['Dieline', 'dieline'],
    ['Glue flap', 'glueZone'],
    ['Lot code', 'codingArea'],
    ['Spot UV', 'varnish'],
    ['Hot foil', 'foilStamp'],
    ['Blind emboss', 'emboss'],
    ['Legend', 'legend'],
    ['Deckweiß', 'white'],
    ['Regenbogengitter', 'holography'],
    ['Stanzkontur', 'dieline'],
    ['Klebefläche', 'glueZone'],
    ['Blindprägung', 'emboss'],
    ['Blanc de soutien', 'white'],
    ['Tracé de coupe', 'dieline'],
    ['Vernis sélectif', 'varnish'],
    ['Dorure à chaud', 'foilStamp'],
    ['Blanco cubriente', 'white'],
    ['Troquel', 'dieline'],
    ['Barniz UV', 'varnish'],
    ['Bianco coprente', 'white'],
    ['Fustella', 'dieline'],
    ['Ologramma', 'holography'],
    ['Calço branco', 'white'],
    ['Corte e vinco', 'dieline'],
    ['Difração', 'holography'],
    ['Dekwit', 'white'],
    ['Stansmes', 'dieline'],
    ['Steunkleur', 'spotInk'],
    ['Biały poddruk', 'white'],
    ['Wykrojnik', 'dieline'],
    ['Lakier wybiórczy', 'varnish'],
    ['白版', 'white'],
    ['ホログラム層', 'holography'],
    ['抜き型', 'dieline'],
    ['ニス', 'varnish'],
    ['白墨', 'white'],
    ['全息', 'holography'],
    ['刀版', 'dieline'],
    ['烫金', 'foilStamp'],
    ['糊口', 'glueZone'],
  ]
  it.each(names)('%s is %s', (name, role) => {
    const one = assign([{ name }]).get(name)
    expect(one?.role).toBe(role)
    expect(one?.by).toBe('rule')
  })

  it('says which word it was', () => {
    expect(assign([{ name: 'Stars, opaque white' }]).get('Stars, opaque white')?.reason).toBe(
      'name has "opaque white"',
    )
    expect(assign([{ name: 'Holo white' }]).get('Holo white')).toMatchObject({
      role: 'white',
      reason: 'name has "white" (and "holo")',
    })
    // Found by a stem or without accents, shown as the name has it.
    for (const [name, reason] of [
      ['Holography lines', 'name has "holography"'],
      ['Prägung Linse', 'name has "prägung"'],
      ['Deckweiß', 'name has "deckweiß"'],
      ['ホログラム層', 'name has "ホログラム"'],
    ] as const)
      expect(assign([{ name }]).get(name)?.reason).toBe(reason)
  })

  it.each(['Comet', 'Lens rings', 'Background', 'Comet on white', 'Die Sterne', 'Black', 'Barcode'])(
    'leaves "%s" to the artwork',
    name => {
      expect(assign([{ name }]).get(name)).toMatchObject({ role: 'overprint', by: 'rule', askAmount: false })
    },
  )

  it('does not take a text layer by the words that it prints', () => {
    const text: Partial<Layer> = { kind: 'text', text: { value: 'White light\reyepiece 25 mm', boxMm: null } }
    expect(
      assign([{ name: 'White light eyepiece 25 mm', ...text }])
        .values()
        .next().value?.role,
    ).toBe('overprint')
    expect(assign([{ name: 'White plate', ...text }]).get('White plate')?.role).toBe('white')
  })
})

describe('roles by ISO 19593-1 step names', () => {
  // Names of ISO 19593-1, tables 2 and 3, by way of the PDF association's object model.
  const steps: readonly (readonly [string, RoleName, string])[] = [
    ['Cutting', 'dieline', 'Structural/Cutting'],
    ['ReversePartialCuttingCreasing', 'dieline', 'Structural/ReversePartialCuttingCreasing'],
    ['Structural/Creasing', 'dieline', 'Structural/Creasing'],
    ['structural perforating', 'dieline', 'Structural/Perforating'],
    ['Bleed', 'dieline', 'Structural/Bleed'],
    ['Gluing', 'glueZone', 'Structural/Gluing'],
    ['InkVarnishFree', 'glueZone', 'Structural/InkVarnishFree'],
    ['FoilStamping', 'foilStamp', 'Structural/FoilStamping'],
    ['ColdFoilStamping', 'foilStamp', 'Structural/ColdFoilStamping'],
    ['Debossing', 'emboss', 'Structural/Debossing'],
    ['Hologram', 'holography', 'Positions/Hologram'],
    ['Positions/Barcode', 'codingArea', 'Positions/Barcode'],
    ['CodingMarking', 'codingArea', 'Positions/CodingMarking'],
    ['ContentArea', 'legend', 'Positions/ContentArea'],
    ['White', 'white', 'White'],
    ['Varnish', 'varnish', 'Varnish'],
    ['Primer', 'primer', 'Primer'],
    ['Braille', 'emboss', 'Braille'],
    ['Dimensions', 'legend', 'Dimensions'],
    ['Legend', 'legend', 'Legend'],
    ['StationInfo', 'legend', 'PlateMaking/StationInfo'],
  ]
  it.each(steps)('%s plays %s', (name, role, step) => {
    expect(stepOf(name)).toEqual({ name: step, role })
    expect(assign([{ name }]).get(name)?.role).toBe(role)
  })

  it('is said in the reason', () => {
    expect(assign([{ name: 'Structural/Gluing' }]).get('Structural/Gluing')?.reason).toBe(
      'name is the ISO 19593-1 step Structural/Gluing',
    )
  })

  it('needs the whole name', () => {
    expect(stepOf('Cutting edge')).toBeNull()
    expect(stepOf('')).toBeNull()
  })
})

describe('roles by group', () => {
  it('come from the nearest group that has one', () => {
    const roles = assign([
      { name: 'Comet', parent: 'Inner' },
      { name: 'Inner', kind: 'group', parent: 'Holography' },
      { name: 'Holography', kind: 'group' },
    ])
    expect(roles.get('Comet')).toMatchObject({
      role: 'holography',
      by: 'group',
      reason: 'inside group "Inner"',
    })
    expect(roles.get('Inner')).toMatchObject({ role: 'holography', reason: 'inside group "Holography"' })
  })

  it('outweigh a word that may be a motif, but not a technical one', () => {
    const roles = assign(inGroup('CMYK', 'White stars', 'Dieline'))
    expect(roles.get('White stars')).toMatchObject({
      role: 'overprint',
      reason: 'inside group "CMYK"; name has "white", which is taken as a motif',
    })
    expect(roles.get('Dieline')).toMatchObject({ role: 'dieline', by: 'rule' })
  })

  it('do not come from a group that is only artwork by default', () => {
    expect(assign(inGroup('Front', 'White stars')).get('White stars')).toMatchObject({
      role: 'white',
      by: 'rule',
    })
  })
})

describe('roles of channels', () => {
  const paint = () => 0
  it('come from kind and name', () => {
    const roles = assign(
      [],
      [
        { name: 'White', paint },
        { name: 'Halden blue', paint },
        { name: 'Spot varnish', paint },
        { name: 'Selection 1', kind: 'alpha', paint },
        { name: 'Holo mask', kind: 'alpha', paint },
        { name: 'Transparency', kind: 'transparency', paint },
      ],
    )
    expect([...roles.values()].map(one => one.role)).toEqual([
      'white',
      'spotInk',
      'varnish',
      'ignore',
      'holography',
      'ignore',
    ])
    for (const one of roles.values()) {
      expect(one.amount).toEqual({ from: 'plane' })
      expect(one.reason).not.toBe('')
    }
    expect(roles.get('Selection 1')?.reason).toBe(
      'alpha channel: a saved selection, no trade word in its name',
    )
  })

  it('know the process inks of a multichannel file', () => {
    expect(['Cyan', 'シアン', 'Gelb', 'Noir', 'Schwarz', 'Reflex blue', 'Cyan dark'].map(processInk)).toEqual(
      ['C', 'C', 'Y', 'K', 'K', null, null],
    )
    const { art } = paintedFile({
      width: 2,
      height: 2,
      mode: 'Multichannel',
      channels: [{ name: 'Cyan', paint }],
    })
    expect(assignRoles(art, nothing)[0]?.role).toBe('overprint')
  })
})

describe('what the user says', () => {
  const layer = (id: string) => ({ kind: 'layer', id }) as const

  it('comes first, with its reading, and is handed on by a group', () => {
    const roles = assign(inGroup('Front', 'Comet', 'Dieline'), [], {
      aliases: [],
      choices: [{ target: layer('Front'), role: 'white', amount: { from: 'ink', ink: 'K' } }],
    })
    expect(roles.get('Front')).toMatchObject({ role: 'white', by: 'job', reason: 'set by you' })
    expect(roles.get('Comet')).toMatchObject({
      role: 'white',
      by: 'group',
      amount: { from: 'ink', ink: 'K' },
      askAmount: false,
    })
    expect(roles.get('Dieline')?.role).toBe('dieline')
  })

  it('beats every rule for one layer or channel', () => {
    const roles = assign([{ name: 'White' }], [{ name: 'White ink', paint: () => 0 }], {
      aliases: [],
      choices: [
        { target: layer('White'), role: 'ignore', amount: null },
        { target: { kind: 'channel', id: 'White ink' }, role: 'varnish', amount: null },
      ],
    })
    expect([...roles.values()].map(one => [one.role, one.by])).toEqual([
      ['ignore', 'job'],
      ['varnish', 'job'],
    ])
  })

  it('adds words, which come before the built-in ones', () => {
    const roles = assign([{ name: 'Sparkle white' }, { name: 'Sparkler' }], [], {
      aliases: [{ word: 'Sparkle', role: 'holography' }],
      choices: [],
    })
    expect(roles.get('Sparkle white')).toMatchObject({
      role: 'holography',
      by: 'job',
      reason: 'name has your word "Sparkle"',
    })
    expect(roles.get('Sparkler')?.role).toBe('overprint')
  })
})

describe('amounts before pixels are seen', () => {
  it('are asked for measured roles only', () => {
    const roles = assign([
      { name: 'White' },
      { name: 'Dieline' },
      { name: 'Comet' },
      ...inGroup('Holo', 'Rings'),
    ])
    expect([...roles.values()].map(one => one.askAmount)).toEqual([true, false, false, true, false])
  })
})
