#!/usr/bin/env bash
# Runs once, when the database's volume is new: the login that owns Lensferry's tables. It is no superuser, so
# that the policies which keep clinics apart bind it too.
set -euo pipefail

psql --no-psqlrc --set ON_ERROR_STOP=1 --set password="$LENSFERRY_DATABASE_PASSWORD" \
  --username "$POSTGRES_USER" --dbname postgres <<'SQL'
CREATE ROLE lensferry LOGIN NOSUPERUSER CREATEROLE PASSWORD :'password';
CREATE DATABASE lensferry OWNER lensferry;
SQL
