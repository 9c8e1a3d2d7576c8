/** Names of the messages between the desktop window and its host. */
export const requestChannel = 'rakelight:request'
export const adoptChannel = 'rakelight:adopt'
export const commandChannel = 'rakelight:command'
