export * from './maker-documents.js';
