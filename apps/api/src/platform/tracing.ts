import { SpanStatusCode, trace, type Attributes } from '@opentelemetry/api';

/**
 * Spans for whoever loads an OpenTelemetry SDK into the process (docs/operations.md says how); nothing without one.
 * Attributes name kinds, topics and numbers of orders: never a person, a patient or what somebody typed.
 */
const tracer = trace.getTracer('lensferry');

/** Runs something within a span. A failure marks it with the error's code; its message may hold input and stays out. */
export function spanned<T>(name: string, attributes: Attributes, run: () => Promise<T>): Promise<T> {
  return tracer.startActiveSpan(name, { attributes }, async (span) => {
    try {
      return await run();
    } catch (error) {
      const { code, name: kind } = error as { code?: unknown; name?: string };
      span.setStatus({ code: SpanStatusCode.ERROR, message: typeof code === 'string' ? code : (kind ?? '') });
      throw error;
    } finally {
      span.end();
    }
  });
}
