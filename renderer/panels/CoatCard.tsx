import type { ReactNode } from 'react'
import { type Amount, type Assigned, type RoleName, roleNames, type Target } from '../../core/roles/role.ts'
import type { Member } from '../state/stack.ts'
import { Pick } from './Choice.tsx'
import { amountWords, layerAmounts, roleWords, sameAmount } from './words.ts'

interface Props {
  readonly member: Member
  readonly open: boolean
  /** The picture of the amount under a reading. */
  readonly thumb: (amount: Amount) => ReactNode
  /** What the role adds: an effect, the white's numbers. */
  readonly children: ReactNode
  readonly groupRole: (target: Target) => Assigned | undefined
  readonly onOpen: () => void
  readonly onRole: (target: Target, role: RoleName, amount: Amount | null) => void
  readonly onRule: (target: Target) => void
}

const roleOptions = roleNames.map(value => ({ value, title: roleWords[value].title }))

/** One layer or channel in its coat: what it is and why, and when opened, how to set it right. */
export function CoatCard(props: Props) {
  const { member, open } = props
  const { assigned } = member
  return (
    <article className={open ? 'card open' : 'card'}>
      <button type="button" className="card-head" aria-expanded={open} onClick={props.onOpen}>
        {props.thumb(assigned.amount)}
        <span className="card-name">
          <strong title={member.name}>{member.name}</strong>
          <span className="quiet" title={assigned.reason}>
            {assigned.reason}
          </span>
        </span>
        {assigned.askAmount ? (
          <span className="badge" role="img" aria-label="asks how its amount is read">
            ?
          </span>
        ) : null}
      </button>
      {open ? <CardBody {...props} /> : null}
    </article>
  )
}

function CardBody({ member, thumb, children, groupRole, onRole, onRule }: Props) {
  const { assigned, target } = member
  const group = member.groups.at(-1)
  // A question comes before what the role adds; an answer that was found waits below it.
  const amountReading =
    target.kind === 'layer' ? (
      <AmountReading
        assigned={assigned}
        thumb={thumb}
        onPick={amount => onRole(target, assigned.role, amount)}
      />
    ) : null
  return (
    <div className="card-body">
      <Pick
        label="Role"
        value={assigned.role}
        options={roleOptions}
        onChange={role => onRole(target, role, null)}
      />
      <p className="quiet">
        {roleWords[assigned.role].says}
        {member.hidden ? ' The file has this layer switched off.' : ''}
      </p>
      {assigned.by === 'job' ? (
        <button type="button" className="plain small" onClick={() => onRule(target)}>
          Back to the role that was found
        </button>
      ) : null}
      {assigned.askAmount ? amountReading : null}
      {children}
      {assigned.askAmount ? null : amountReading}
      {group === undefined ? null : (
        <GroupRole
          name={group.name}
          target={group.target}
          assigned={groupRole(group.target)}
          onRole={onRole}
          onRule={onRule}
        />
      )}
    </div>
  )
}

/** A role for all that lies in the group and has none of its own. */
function GroupRole(props: {
  readonly name: string
  readonly target: Target
  readonly assigned: Assigned | undefined
  readonly onRole: Props['onRole']
  readonly onRule: Props['onRule']
}) {
  const byHand = props.assigned?.by === 'job' ? props.assigned.role : ''
  return (
    <Pick
      label={`Role of the whole group “${props.name}”`}
      value={byHand as RoleName | ''}
      options={[{ value: '', title: 'each by its own name' }, ...roleOptions]}
      onChange={role => (role === '' ? props.onRule(props.target) : props.onRole(props.target, role, null))}
    />
  )
}

/** How much of the coat lies where: asked when unclear, shown always. */
function AmountReading({
  assigned,
  thumb,
  onPick,
}: {
  readonly assigned: Assigned
  readonly thumb: (amount: Amount) => ReactNode
  readonly onPick: (amount: Amount) => void
}) {
  const choices = (
    <fieldset className="readings" aria-label="Ways to read the amount">
      {layerAmounts.map(amount => (
        <button
          key={amountWords(amount)}
          type="button"
          className="reading"
          aria-pressed={!assigned.askAmount && sameAmount(amount, assigned.amount)}
          onClick={() => onPick(amount)}
        >
          {thumb(amount)}
          <span>{amountWords(amount)}</span>
        </button>
      ))}
    </fieldset>
  )
  if (assigned.askAmount)
    return (
      <section className="asking">
        <h3>
          <span className="badge" aria-hidden="true">
            ?
          </span>
          How is its amount read?
        </h3>
        <p className="quiet">
          For now: {assigned.amountReason}. Pick the picture that shows the coat; white in it is all of the
          coat.
        </p>
        {choices}
      </section>
    )
  return (
    <details className="asked">
      <summary>
        Amount: {amountWords(assigned.amount)}
        <span className="quiet">{assigned.amountReason}</span>
      </summary>
      {choices}
    </details>
  )
}
