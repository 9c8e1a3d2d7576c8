import { describe, expect, it } from 'vitest'
import { assignRoles } from '../../core/roles/assign.ts'
import { coatsOf, openQuestions } from '../../renderer/state/stack.ts'
import { chartArt } from '../support/fake-host.ts'

const assigned = assignRoles(chartArt, { aliases: [], choices: [] })
const { printed, unprinted } = coatsOf(chartArt, assigned)

describe('stack', () => {
  it('coats lie in physical order whatever the order in the file: overprint on top, white, holography', () => {
    expect(printed.map(coat => coat.role)).toEqual(['overprint', 'white', 'holography'])
  })

  it('every layer and channel is in exactly one coat; groups are named by their members', () => {
    const ids = [...printed, ...unprinted].flatMap(coat =>
      coat.members.map(member => `${member.target.kind} ${member.target.id}`),
    )
    const expected = [
      ...chartArt.layers.filter(layer => layer.kind !== 'group').map(layer => `layer ${layer.id}`),
      ...chartArt.channels.map(channel => `channel ${channel.id}`),
    ]
    expect(ids.sort()).toEqual(expected.sort())
    const comet = printed[0]?.members.find(member => member.name === 'Comet')
    expect(comet?.groups.map(group => group.name)).toEqual(['Overprint'])
  })

  it('inside a coat the uppermost layer of the file comes first', () => {
    expect(printed[0]?.members.map(member => member.name)).toEqual(['Product name', 'Comet', 'Star chart'])
  })

  it('what is not printed is apart', () => {
    expect(unprinted.map(coat => coat.role)).toEqual(['dieline', 'legend'])
  })

  it('has a coat for what the job adds, where no layer plays its role', () => {
    const without = assigned.filter(({ role }) => role !== 'white')
    const roles = (made?: readonly 'white'[]) =>
      coatsOf(chartArt, without, made).printed.map(coat => coat.role)
    expect(roles()).toEqual(['overprint', 'holography'])
    expect(roles(['white'])).toEqual(['overprint', 'white', 'holography'])
  })

  it('asks about amounts of printed coats only', () => {
    const asked = openQuestions(chartArt, assigned)
    expect(asked.length).toBeGreaterThan(0)
    for (const member of asked) expect(['white', 'holography']).toContain(member.assigned.role)
    const quiet = assigned.map(one => ({ ...one, askAmount: false }))
    expect(openQuestions(chartArt, quiet)).toHaveLength(0)
  })

  it('groups that name each other in a circle do not hang it', () => {
    const layers = chartArt.layers.map(layer => (layer.id === '2' ? { ...layer, parent: '2' } : layer))
    const damaged = { ...chartArt, layers }
    const coats = coatsOf(damaged, assigned)
    expect(coats.printed.flatMap(coat => coat.members).length).toBeGreaterThan(0)
  })
})
