import type { Settings } from '../config.js';
import type { Attempt, Channels, Parcel } from './channel.js';
import { byMail } from './by-mail.js';
import { byMessage } from './by-message.js';

/** The channels that this process can use. */
export function channelsOf(settings: Pick<Settings, 'SMTP_URL' | 'MAIL_FROM'>): Channels {
  return { https: byMessage, email: byMail(settings) };
}

/** Hands a parcel over by its maker's channel. */
export function handOver(channels: Channels, parcel: Parcel): Promise<Attempt> {
  const { to } = parcel;
  return to.channel === 'https'
    ? channels.https.hand({ ...parcel, to })
    : channels.email.hand({ ...parcel, to });
}
