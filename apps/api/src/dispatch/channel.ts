import type {
  CancellationDocument,
  ChangeDocument,
  InquiryDocument,
  OrderDocument,
  ReturnDocument,
} from '@lensferry/contracts';

/** What a maker can be sent. */
export type MakerDocument =
  OrderDocument | ChangeDocument | CancellationDocument | InquiryDocument | ReturnDocument;

/** What is to be handed over. Everything in it is the same at every attempt. */
export interface Parcel {
  readonly kind: 'order' | 'change' | 'cancellation' | 'inquiry' | 'return';
  readonly id: string;
  readonly number: string;
  /** What tells a repetition from a new document. */
  readonly key: string;
  readonly makerId: string;
  readonly document: MakerDocument;
  /** When it was written, not when it is tried. */
  readonly writtenAt: Date;
  readonly to: Address;
}

/** Where it goes, by the maker's channel. */
export type Address =
  | { readonly channel: 'https'; readonly url: string; readonly secret: string }
  | { readonly channel: 'email'; readonly address: string };

/** How an attempt went. `final` when trying again can't help. */
export interface Attempt {
  readonly sent: boolean;
  readonly final: boolean;
  readonly status: number | null;
  readonly outcome: string;
}

/** One way to reach makers. By hand there is nothing to do: a person downloads the document and says so. */
export interface Channel<To extends Address = Address> {
  hand(parcel: Parcel & { readonly to: To }): Promise<Attempt>;
}

export type Channels = {
  readonly [name in Address['channel']]: Channel<Extract<Address, { channel: name }>>;
};
