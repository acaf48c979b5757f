/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file export.h
 *  @brief Marks what the shared library offers; every macro here is empty under SWIG. */
#ifndef VENTSTACK_EXPORT_H
#define VENTSTACK_EXPORT_H

#if defined(SWIG) || !defined(__GNUC__)
#define VENT_API
#define VENT_MUST_USE
#else
#define VENT_API      __attribute__((visibility("default")))
#define VENT_MUST_USE __attribute__((warn_unused_result))
#endif

#ifdef __cplusplus
#define VENT_BEGIN_DECLS extern "C" {
#define VENT_END_DECLS   }
#else
#define VENT_BEGIN_DECLS
#define VENT_END_DECLS
#endif

#endif
